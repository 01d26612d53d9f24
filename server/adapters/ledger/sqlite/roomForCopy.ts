// Whether a disk has room for a copy: it must not take the room that the shop itself needs.
import { statfsSync, statSync } from 'node:fs';

export interface CopyPlace {
  /** The live store. */
  readonly file: string;
  /** Where the copy is to lie. */
  readonly folder: string;
}

/** What must be left on the disk after a copy, so that the shop itself can go on writing [bytes]. */
const ROOM_LEFT_BYTES = 64 * 1024 * 1024;

/** Says in words what is missing for a copy; null where there is room. */
export function roomMissing({ file, folder }: CopyPlace): string | null {
  const wantedBytes = statSync(file).size + ROOM_LEFT_BYTES;
  const { bavail, bsize } = statfsSync(folder);
  const freeBytes = bavail * bsize;
  if (freeBytes >= wantedBytes) return null;
  return `the disk has ${inMegabytes(freeBytes)} free, a copy needs ${inMegabytes(wantedBytes)}`;
}

function inMegabytes(sizeBytes: number): string {
  return `${Math.ceil(sizeBytes / 1_000_000)} MB`;
}
