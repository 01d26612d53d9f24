// The last step of the pages' build: tells the service worker what to keep, and puts a gzip twin beside each text file.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Plugin } from 'vite';
import { workerWords } from './workerWords.ts';

const WORKER = 'serviceWorker.js';
const SHELL = 'index.html';
const TEXTS = /\.(js|css)$/;

/** Makes the plugin. */
export function shellFiles(): Plugin {
  return {
    name: 'shell-files',
    apply: 'build',
    writeBundle({ dir }) {
      if (dir === undefined) throw new Error('the build has no folder to write to');
      const names = readdirSync(dir, { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => join(entry.parentPath, entry.name).slice(dir.length + 1))
        .toSorted();
      // Pictures for the device's own screen are fetched by the device, never by a page.
      const kept = names.filter((name) => name !== WORKER && !name.endsWith('.png'));
      const hash = createHash('sha256');
      for (const name of kept) hash.update(name).update(readFileSync(join(dir, name)));
      const build = hash
        .update(readFileSync(join(dir, WORKER)))
        .digest('hex')
        .slice(0, 16);
      const files = kept.map((name) => (name === SHELL ? '/' : `/${name}`));
      const worker = join(dir, WORKER);
      const text = readFileSync(worker, 'utf8');
      const ahead = `self.sandbyShell=${JSON.stringify({ build, files })};\nself.sandbyWords=${JSON.stringify(workerWords())};\n`;
      writeFileSync(worker, `${ahead}${text}`);
      for (const name of kept.filter((other) => TEXTS.test(other))) {
        writeFileSync(join(dir, `${name}.gz`), gzipSync(readFileSync(join(dir, name)), { level: 9 }));
      }
    },
  };
}
