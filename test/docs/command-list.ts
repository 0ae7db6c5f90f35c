// The README's list of commands, from the words with which each command explains itself.
import { COMMANDS } from '../../src/cli/commands.ts';

export const commandList = (): string =>
  ['```', ...Object.values(COMMANDS).map(({ says }) => `npx chargehand ${says}`), '```'].join('\n');
