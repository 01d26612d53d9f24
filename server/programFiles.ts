// Where the program's own files are, whether it runs from source or built.
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** The folder that holds package.json, found upwards from this file. */
export function findProgramFolder(): string {
  let folder = import.meta.dirname;
  while (!existsSync(join(folder, 'package.json')) && dirname(folder) !== folder) folder = dirname(folder);
  return folder;
}

/** The program's version. */
export function readVersion(programFolder: string): string {
  return (JSON.parse(readFileSync(join(programFolder, 'package.json'), 'utf8')) as { version: string })
    .version;
}
