// A disk of a few megabytes to be filled: a file system in memory, where the machine lets us mount one.
import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** The system's own; no package brings it. */
const MOUNT = 'mount';

export interface SmallDisk {
  readonly folder: string;
  /** Leaves no room at all; the returned function makes it again. */
  fill(): () => void;
  remove(): void;
}

/** Mounts a disk of so many bytes; null where the machine does not allow it. */
export function mountSmallDisk(sizeBytes: number): SmallDisk | null {
  const folder = mkdtempSync(join(tmpdir(), 'sandby-disk-'));
  const mounted = spawnSync(MOUNT, ['-t', 'tmpfs', '-o', `size=${sizeBytes}`, 'tmpfs', folder]);
  if (mounted.status !== 0) {
    rmSync(folder, { recursive: true });
    return null;
  }
  return {
    folder,
    fill() {
      const filler = join(folder, 'filler');
      fillWith(filler);
      return () => rmSync(filler);
    },
    remove() {
      spawnSync(`u${MOUNT}`, ['--lazy', folder]);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function fillWith(file: string): void {
  const handle = openSync(file, 'a');
  try {
    for (let chunkBytes = 65_536; chunkBytes >= 1;) {
      try {
        writeSync(handle, Buffer.alloc(chunkBytes));
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code !== 'ENOSPC') throw error;
        chunkBytes = Math.floor(chunkBytes / 2);
      }
    }
  } finally {
    closeSync(handle);
  }
}
