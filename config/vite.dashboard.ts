// Builds the pages into dist/dashboard. One shell serves every screen; each screen is a chunk of its own.
import { resolve } from 'node:path';
import { defineConfig } from 'vite';

const root = resolve(import.meta.dirname, '../dashboard');

export default defineConfig({
  root,
  base: '/',
  publicDir: resolve(root, 'public'),
  build: { outDir: resolve(import.meta.dirname, '../dist/dashboard'), emptyOutDir: true, target: 'es2022' },
});
