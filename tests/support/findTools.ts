// Where the machine keeps the programs that some tests run beside ours.
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

/** The command-line publisher of the mosquitto broker, or null when this machine has none. */
export function findMosquittoPub(): string | null {
  return findProgram('mosquitto_pub');
}

function findProgram(name: string): string | null {
  const folders = [...(process.env.PATH ?? '').split(delimiter), '/usr/bin', '/usr/local/bin'];
  const path = folders.map((folder) => join(folder, name)).find(isExecutable);
  return path ?? null;
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
