// Problems as RFC 9457 says: only here do refusals and rejections get a status.
import type { Response } from 'express';
import type {
  ProblemWire,
  Refusal,
  RefusalCode,
  Rejection,
  SettingsTouchWire,
} from '../../contract/index.ts';

const TITLES: Readonly<Record<number, string>> = {
  400: 'Something in the request is wrong',
  401: 'Not known here',
  403: 'Not allowed',
  404: 'Not found',
  409: 'Not as things stand',
  413: 'Too large',
  415: 'Unknown content type',
  422: 'Key used for another request',
  429: 'Too often',
  500: 'A fault of the program',
  501: 'Not in this shop',
  503: 'Nothing can be stored just now',
};

const STATUS_OF_REFUSAL: Partial<Record<RefusalCode, number>> = {
  'unknown-batch': 404,
  'unknown-bay': 404,
  'unknown-card': 404,
  'unknown-lamp': 404,
  'unknown-alert': 404,
  'unknown-distance': 400,
  'in-the-future': 400,
  'too-long-ago': 400,
  'before-mixing': 400,
};

/** Sends a problem. */
export function sendProblem(
  response: Response,
  status: number,
  extra: Pick<ProblemWire, 'code' | 'detail' | 'errors' | 'conflict'> = {},
): void {
  const problem: ProblemWire = { type: 'about:blank', title: TITLES[status] ?? 'Problem', status, ...extra };
  response.status(status).type('application/problem+json').send(JSON.stringify(problem));
}

/** Sends what a parser rejected: 400 with path, reason and what is allowed. */
export function sendRejections(response: Response, rejections: readonly Rejection[]): void {
  sendProblem(response, 400, { code: 'rejected', errors: rejections.map((one) => ({ ...one })) });
}

/** Sends what the domain refused, with its code and sentence. */
export function sendRefusal(response: Response, { code, sentence, path }: Refusal): void {
  const errors = path === undefined ? {} : { errors: [{ path, reason: code, allowed: sentence }] };
  sendProblem(response, STATUS_OF_REFUSAL[code] ?? 409, { code, detail: sentence, ...errors });
}

/** Sends that others were faster: 409 with who changed what and when, newest first. */
export function sendStale(
  response: Response,
  { version, changes }: { version: number; changes: readonly SettingsTouchWire[] },
): void {
  const [last] = changes;
  const what = last === undefined ? '' : ` Last ${last.by ?? 'somebody'} changed ${last.paths.join(', ')}.`;
  sendProblem(response, 409, {
    code: 'version-stale',
    detail: `This was changed since it was shown.${what}`,
    conflict: { version, changes: [...changes] },
  });
}

/** Sends that there is no such thing. */
export function sendUnknown(response: Response, what: string): void {
  sendProblem(response, 404, { code: `unknown-${what}`, detail: `There is no such ${what}.` });
}
