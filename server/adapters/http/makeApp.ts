// The HTTP side: API, its description, and the pages, with one place for every kind of error.
import express, { type ErrorRequestHandler, type Express, type RequestHandler } from 'express';
import helmet, { type HelmetOptions } from 'helmet';
import { BODY_BYTES_MAX, isFromHere } from '../../contract/index.ts';
import type { Doors } from '../../application/ports/doors.ts';
import type { Log } from '../../application/ports/live.ts';
import type { NotifyDoors } from '../../application/ports/notifyDoors.ts';
import { PortFailure } from '../../application/ports/portFailure.ts';
import { makeMetricsRoute } from './metricsRoute.ts';
import { type AccessRouteParts, makeAccessRoutes } from './accessRoutes.ts';
import { makeAsyncApi } from './asyncApi.ts';
import { makeGuard } from './guard.ts';
import { makeNotifyRoutes } from './notifyRoutes.ts';
import { makeApiPage, makeOpenApi } from './openApi.ts';
import { makePages } from './pages.ts';
import { sendProblem } from './problem.ts';
import { makeReadRoutes } from './readRoutes.ts';
import { receiveAcknowledgement, receiveCommand, receivePreview, receiveStart } from './receiveCommand.ts';
import { receiveReading, SENML_TYPE } from './receiveReading.ts';
import { API_RIGHTS, OTHER_RIGHTS } from './rights.ts';
import { makeSetupRoutes } from './setupRoutes.ts';

export interface AppParts {
  readonly doors: Doors;
  readonly log: Log;
  readonly version: string;
  /** The built pages. */
  readonly pagesFolder: string;
  /** Every figure as text; a shop that counts nothing has none. */
  readonly readMetrics?: () => Promise<string>;
  /** Who may come in; left out, this machine alone, without sign-in. */
  readonly access?: AccessRouteParts;
  /** What leaves the pages; a shop that tells nobody has none. */
  readonly notify?: NotifyDoors;
}

/** Makes the HTTP application. */
export function makeApp(parts: AppParts): Express {
  const { doors, log, version, pagesFolder, readMetrics, access = OPEN } = parts;
  const guard = makeGuard({ ...access, tls: access.tls.http });
  const app = express();
  app.disable('x-powered-by');
  app.use(guard.refuseStrangers);
  app.use(helmet(headersFor(access.tls.http)));
  app.use(['/metrics', '/api/docs'], guard.askRight(OTHER_RIGHTS, 'root'));
  const api = express.Router();
  api.use(guard.askRight(API_RIGHTS));
  api.use(refuseOtherTypes);
  api.use(express.json({ limit: BODY_BYTES_MAX, type: ['application/json', SENML_TYPE], strict: true }));
  api.post('/readings', (request, response) => receiveReading(doors, request, response));
  api.post('/batches', (request, response) => receiveStart(doors, request, response));
  api.post('/batches/:id/commands', (request, response) => receiveCommand(doors, request, response));
  api.post('/alerts/:id/acknowledgement', (request, response) =>
    receiveAcknowledgement(doors, request, response),
  );
  api.post('/previews', (request, response) => receivePreview(doors, request, response));
  api.get('/openapi.json', (_request, response) => void response.json(makeOpenApi(version)));
  api.get('/asyncapi.json', (_request, response) => void response.json(makeAsyncApi(version)));
  if (parts.notify !== undefined) api.use(makeNotifyRoutes(parts.notify));
  api.use(makeAccessRoutes(access));
  api.use(makeReadRoutes(doors));
  api.use(makeSetupRoutes(doors));
  api.use((_request, response) =>
    sendProblem(response, 404, { code: 'unknown-path', detail: 'There is no such call.' }),
  );
  app.use('/api/v1', api);
  if (readMetrics !== undefined) app.get('/metrics', makeMetricsRoute(readMetrics));
  app.get('/api/docs', (_request, response) => void response.type('html').send(makeApiPage(version)));
  app.use(makePages(pagesFolder));
  app.use(handleError(log));
  return app;
}

/** No sign-in: this very machine asks, over plain HTTP. */
const OPEN: AccessRouteParts = {
  access: null,
  origins: { isOurs: isFromHere, addressFor: (host) => `http://${host}` },
  tls: { http: false, mqtt: false },
  drawCode: () => [],
};

/** Nothing is loaded from elsewhere; plain HTTP on a shop's network must keep working, so nothing is upgraded there. */
function headersFor(tls: boolean): HelmetOptions {
  const directives = {
    defaultSrc: ["'self'"],
    connectSrc: tls ? ["'self'", 'wss:'] : ["'self'", 'ws:', 'wss:'],
    imgSrc: ["'self'", 'data:'],
    styleSrc: ["'self'", "'unsafe-inline'"],
    manifestSrc: ["'self'"],
    workerSrc: ["'self'"],
    upgradeInsecureRequests: tls ? [] : null,
  };
  // A browser that was told once to come by TLS only would find no plain shop any more.
  return {
    contentSecurityPolicy: { directives },
    strictTransportSecurity: tls ? { includeSubDomains: false } : false,
  };
}

const refuseOtherTypes: RequestHandler = (request, response, next) => {
  const hasBody =
    request.headers['transfer-encoding'] !== undefined || Number(request.headers['content-length'] ?? 0) > 0;
  const isWriting = request.method === 'POST' || request.method === 'PUT';
  if (!isWriting || !hasBody || request.is(['application/json', SENML_TYPE]) !== false) {
    next();
    return;
  }
  sendProblem(response, 415, { code: 'content-type', detail: `Send application/json or ${SENML_TYPE}.` });
};

function handleError(log: Log): ErrorRequestHandler {
  return (error: unknown, request, response, next) => {
    if (response.headersSent) {
      next(error);
      return;
    }
    const type = (error as { type?: unknown }).type;
    if (type === 'entity.too.large') {
      sendProblem(response, 413, {
        code: 'too-large',
        detail: `A body has at most ${BODY_BYTES_MAX} bytes.`,
      });
    } else if (error instanceof PortFailure) {
      sendProblem(response, 503, {
        code: 'not-stored',
        detail: 'Nothing was stored. Try again in a moment.',
      });
    } else if (type === 'charset.unsupported' || type === 'encoding.unsupported') {
      sendProblem(response, 415, { code: 'content-type', detail: 'Send JSON in UTF-8, plain or by gzip.' });
    } else if (type === 'entity.parse.failed') {
      const errors = [
        { path: '', reason: 'is not JSON that can be read', allowed: 'one JSON value in UTF-8' },
      ];
      sendProblem(response, 400, { code: 'rejected', errors });
    } else if (clientStatusOf(error) === 404) {
      sendProblem(response, 404, { code: 'unknown-path', detail: 'There is nothing here.' });
    } else if (clientStatusOf(error) !== null) {
      sendProblem(response, 400, { code: 'rejected', detail: 'The request cannot be read.' });
    } else {
      log.error('http.fault', {
        path: request.path,
        reason: error instanceof Error ? (error.stack ?? error.message) : String(error),
      });
      sendProblem(response, 500, {
        code: 'fault',
        detail: 'The program has made a mistake; it is in its log.',
      });
    }
  };
}

function clientStatusOf(error: unknown): number | null {
  const status = (error as { status?: unknown }).status;
  return typeof status === 'number' && status >= 400 && status < 500 ? status : null;
}
