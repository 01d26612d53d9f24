// Bundles our own code for plain `node`; packages stay outside, they are installed beside it.
import { resolve } from 'node:path';
import { defineConfig } from 'vite';

const root = resolve(import.meta.dirname, '..');

export default defineConfig({
  root,
  publicDir: false,
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'dist',
    emptyOutDir: false,
    minify: false,
    sourcemap: true,
    rolldownOptions: {
      input: {
        'server/main': resolve(root, 'server/main.ts'),
        'server/rebuild': resolve(root, 'server/rebuild.ts'),
        'server/restore': resolve(root, 'server/restore.ts'),
        'server/storeWork': resolve(root, 'server/storeWork.ts'),
        'server/passphrase': resolve(root, 'server/passphrase.ts'),
        'server/forecast': resolve(root, 'server/forecast.ts'),
        'server/replay': resolve(root, 'server/replay.ts'),
        'sensors-sim/main': resolve(root, 'sensors-sim/main.ts'),
      },
      output: { entryFileNames: '[name].js', chunkFileNames: 'server/chunks/[name]-[hash].js' },
    },
  },
});
