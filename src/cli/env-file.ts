// Settings of the environment may stand in a .env file of the folder that a command is given in: where the data folder or the
// database is named there, every command finds it.
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { diskTrouble } from './known-trouble.ts';

/**
 * To be called before the environment is looked at. What is set already stays; without the file the environment alone counts.
 * @returns whether there is one. Throws where there is one that cannot be read: a command would look elsewhere than it was told.
 */
export const readEnvHere = (): boolean => {
  const file = resolve('.env');
  try {
    // Node calls every file that it cannot load one that is not there; reading it says what it is.
    readFileSync(file);
    process.loadEnvFile(file);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return false;
    throw new Error(
      `The file .env ${diskTrouble(error)?.what ?? 'is not written as NAME=value, one a line.'}\nMend or remove it.`,
    );
  }
};
