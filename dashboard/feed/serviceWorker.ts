// Keeps the shell (the page itself, its scripts, styles and icons) on the device, so that it opens without a connection.
// Nothing the shop says is ever kept or answered here: the API and the live feed do not pass through this file.
// A program of its own, built to /serviceWorker.js; the build writes the list of files and the texts of calls in front of it.
import { takePush, type WorkerNotices, type WorkerWords } from './workerPush.ts';

/** What the build puts in front: an identity that changes with any file, and the files. */
interface Shell {
  readonly build: string;
  readonly files: readonly string[];
}

interface LifeEvent extends Event {
  waitUntil(done: Promise<unknown>): void;
}

interface PushedEvent extends LifeEvent {
  readonly data: { json(): unknown } | null;
}

interface TapEvent extends LifeEvent {
  readonly notification: Notification;
}

interface WindowOfPage {
  focus(): Promise<unknown>;
}

interface AskEvent extends LifeEvent {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

/** The part of a worker's global scope that is used here; the page's own types do not have it. */
interface WorkerScope {
  readonly sandbyShell: Shell;
  readonly sandbyWords: WorkerWords;
  readonly registration: WorkerNotices;
  readonly caches: CacheStorage;
  readonly clients: {
    claim(): Promise<void>;
    matchAll(of: { readonly type: 'window' }): Promise<readonly WindowOfPage[]>;
    openWindow(path: string): Promise<unknown>;
  };
  readonly location: Location;
  skipWaiting(): Promise<void>;
  addEventListener(name: 'install' | 'activate', listen: (event: LifeEvent) => void): void;
  addEventListener(name: 'push', listen: (event: PushedEvent) => void): void;
  addEventListener(name: 'fetch', listen: (event: AskEvent) => void): void;
  addEventListener(name: 'notificationclick', listen: (event: TapEvent) => void): void;
}

const scope = globalThis as unknown as WorkerScope;
const CACHE_PREFIX = 'shell-';
const SHELL_PATH = '/';
/** A computer that does not answer at all must not keep the page from opening [ms]. */
const NETWORK_WAIT_MS = 3000;
/** Never a screen, even when somebody opens them by their address. */
const SERVER_PATHS = /^\/(api|live|socket\.io|metrics)(\/|$)/;

const { build, files } = scope.sandbyShell;
const ownCache = `${CACHE_PREFIX}${build}`;

// The new build takes over at once: pages are asked from the network first, so that an old page is never held up by it.
scope.addEventListener('install', (event) => {
  event.waitUntil(keepShell().then(() => scope.skipWaiting()));
});
scope.addEventListener('activate', (event) => {
  event.waitUntil(dropOldShells().then(() => scope.clients.claim()));
});
scope.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== scope.location.origin || SERVER_PATHS.test(pathname)) return;
  if (request.mode === 'navigate') event.respondWith(askFirst(request, SHELL_PATH));
  else if (pathname.startsWith('/assets/')) event.respondWith(lookFirst(request));
  else if (files.includes(pathname)) event.respondWith(askFirst(request, pathname));
});

scope.addEventListener('push', (event) => {
  event.waitUntil(takePush(readPushed(event), { notices: scope.registration, words: scope.sandbyWords }));
});

scope.addEventListener('notificationclick', (event) => {
  event.notification.close();
  event.waitUntil(showPage());
});

function readPushed({ data }: PushedEvent): unknown {
  try {
    return data?.json() ?? null;
  } catch {
    // Not one of ours.
    return null;
  }
}

async function showPage(): Promise<void> {
  const [page] = await scope.clients.matchAll({ type: 'window' });
  await (page === undefined ? scope.clients.openWindow('/bench') : page.focus());
}

async function keepShell(): Promise<void> {
  const cache = await scope.caches.open(ownCache);
  // Files with hashed names may come from the browser's own cache; the others must be those of this build.
  await cache.addAll(
    files.map((path) => new Request(path, { cache: path.startsWith('/assets/') ? 'default' : 'reload' })),
  );
}

/** A page of the build before may still be open and ask for a screen of its own: that build is kept, older ones go. */
async function dropOldShells(): Promise<void> {
  const others = (await scope.caches.keys()).filter(
    (name) => name.startsWith(CACHE_PREFIX) && name !== ownCache,
  );
  await Promise.all(others.slice(0, -1).map((name) => scope.caches.delete(name)));
}

/** The server's own answer, whatever it is; what is kept only where none comes. */
async function askFirst(request: Request, path: string): Promise<Response> {
  const kept = await (await scope.caches.open(ownCache)).match(path, { ignoreVary: true });
  if (kept === undefined) return fetch(request);
  const waited = new Promise<Response>((resolve) => {
    setTimeout(() => resolve(kept), NETWORK_WAIT_MS);
  });
  return Promise.race([fetch(request).catch(() => kept), waited]);
}

/** A file with a hashed name never changes: what is kept is as good as the server's. */
async function lookFirst(request: Request): Promise<Response> {
  return (await scope.caches.match(request, { ignoreVary: true })) ?? fetch(request);
}
