// Builds the pages into dist/dashboard. One shell serves every screen; each screen is a chunk of its own.
import { resolve } from 'node:path';
import { defineConfig } from 'vite';
import { shellFiles } from './shellFiles.ts';

const root = resolve(import.meta.dirname, '../dashboard');

export default defineConfig({
  root,
  base: '/',
  publicDir: resolve(root, 'public'),
  plugins: [shellFiles()],
  build: {
    outDir: resolve(import.meta.dirname, '../dist/dashboard'),
    emptyOutDir: true,
    target: 'es2022',
    rolldownOptions: {
      input: {
        index: resolve(root, 'index.html'),
        serviceWorker: resolve(root, 'feed/serviceWorker.ts'),
      },
      output: {
        // A worker rules only below its own path: it stands at the root, and its name stays.
        entryFileNames: ({ name }) => (name === 'serviceWorker' ? '[name].js' : 'assets/[name]-[hash].js'),
      },
    },
  },
});
