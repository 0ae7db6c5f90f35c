// Settings of the environment that stand in a .env file, for commands that look at what is stored: where the jobs are in a
// database, they are there for every command.
import { resolve } from 'node:path';

/** What is set already stays. Without the file the environment alone counts; `start` says what is wrong with one. */
export const readEnvHere = (): void => {
  try {
    process.loadEnvFile(resolve('.env'));
  } catch {
    // Nothing more is known then.
  }
};
