// The pages: one built shell for every screen, its files cached by their hashed names.
import { readdirSync, readFileSync } from 'node:fs';
import { extname, join } from 'node:path';
import express, { type RequestHandler, Router } from 'express';

/** Paths that the shell serves, the bare address too: only the device knows where that leads. */
const SCREENS = ['/', '/bench', '/floor', '/air', '/records', '/records/:repairOrder', '/setup', '/pair'];
const PACKED = '.gz';

/** Makes the routes of the pages from their built folder. */
export function makePages(folder: string): Router {
  const router = Router();
  const shell = readFileSync(join(folder, 'index.html'), 'utf8');
  const assets = join(folder, 'assets');
  router.get(SCREENS, (_request, response) => {
    response.set('Cache-Control', 'no-cache').type('html').send(shell);
  });
  router.use(
    '/assets',
    takePacked(assets),
    express.static(assets, { immutable: true, maxAge: '365d', fallthrough: false, index: false }),
  );
  // Icons, the manifest and the service worker keep their names: they are asked for again each time.
  router.use(
    express.static(folder, {
      index: false,
      setHeaders: (response) => void response.set('Cache-Control', 'no-cache'),
    }),
  );
  router.use((_request, response) => {
    response.status(404).set('Cache-Control', 'no-cache').type('html').send(shell);
  });
  return router;
}

/** Sends the gzip twin that the build has put beside a file to whoever takes one. */
function takePacked(folder: string): RequestHandler {
  const packed = new Set(
    readdirSync(folder)
      .filter((name) => name.endsWith(PACKED))
      .map((name) => `/${name.slice(0, -PACKED.length)}`),
  );
  return (request, response, next) => {
    if (packed.has(request.path)) {
      response.vary('Accept-Encoding');
      if (request.acceptsEncodings('gzip') === 'gzip') {
        response.type(extname(request.path)).set('Content-Encoding', 'gzip');
        request.url = `${request.path}${PACKED}`;
      }
    }
    next();
  };
}
