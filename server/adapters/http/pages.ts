// The pages: one built shell for every screen, its files cached by their hashed names.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import express, { Router } from 'express';

/** Paths that the shell serves, the bare address too: only the device knows where that leads. */
const SCREENS = ['/', '/bench', '/floor', '/air', '/records', '/records/:repairOrder', '/setup'];

/** Makes the routes of the pages from their built folder. */
export function makePages(folder: string): Router {
  const router = Router();
  const shell = readFileSync(join(folder, 'index.html'), 'utf8');
  router.get(SCREENS, (_request, response) => {
    response.set('Cache-Control', 'no-cache').type('html').send(shell);
  });
  router.use(
    '/assets',
    express.static(join(folder, 'assets'), {
      immutable: true,
      maxAge: '365d',
      fallthrough: false,
      index: false,
    }),
  );
  router.use(express.static(folder, { index: false, maxAge: 0 }));
  router.use((_request, response) => {
    response.status(404).set('Cache-Control', 'no-cache').type('html').send(shell);
  });
  return router;
}
