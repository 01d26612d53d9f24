// The config's part of access: who may come from where. Beyond loopback nothing listens without sign-in.
import { z } from 'zod';
import { LOOPBACK_HOSTS, type Refinement } from '../../contract/index.ts';

const ORIGINS_COUNT_MAX = 20;

export const hostField = z
  .string()
  .min(1)
  .max(253)
  .refine((text) => /^[A-Za-z0-9.:_-]+$/.test(text), {
    error: 'is no host',
    params: { allowed: 'an address or a name, such as 0.0.0.0' },
  })
  .describe('Loopback; any other address only with access, since all who reach it could read and write.');

export const tlsField = z
  .strictObject({
    certFile: z.string().min(1).describe('PEM, the chain after it; relative to this file.'),
    keyFile: z.string().min(1).describe('PEM, without a password; relative to this file.'),
  })
  .optional()
  .describe('Read again by itself when the files change. Without it everything said is readable on the way.');

export const accessField = z
  .strictObject({
    kind: z.literal('signIn'),
    origins: z
      .array(
        z.string().refine((text) => isOrigin(text), {
          error: 'is no origin',
          params: { allowed: 'such as https://sandby.example:4180, without a path' },
        }),
      )
      .min(1)
      .max(ORIGINS_COUNT_MAX)
      .optional()
      .describe(
        'Under which addresses pages are opened; left out: this computer’s own, in numbers or by its name.',
      ),
  })
  .optional()
  .describe(
    'Devices are paired, managers sign in, sensors have passwords. Left out: no sign-in, loopback alone.',
  );

/** Tells what listens beyond loopback without access, and what cannot go with it. */
export function checkAccess(
  config: {
    readonly http: { readonly host: string };
    readonly mqtt: { readonly host: string };
    readonly access?: unknown;
    readonly simulator?: unknown;
  },
  context: Refinement,
): void {
  if (config.access !== undefined && config.simulator !== undefined) {
    const params = { allowed: 'leave out access or simulator' };
    const message = 'plays people who do not sign in, so it cannot go with access';
    context.addIssue({ code: 'custom', path: ['simulator'], message, params });
  }
  for (const key of ['http', 'mqtt'] as const) {
    if (config.access !== undefined || LOOPBACK_HOSTS.some((host) => host === config[key].host)) continue;
    context.addIssue({
      code: 'custom',
      path: [key, 'host'],
      message: 'is reached by other machines, and there is no sign-in',
      params: { allowed: `${LOOPBACK_HOSTS.join(', ')}; any address once access is {"kind": "signIn"}` },
    });
  }
}

function isOrigin(text: string): boolean {
  if (!URL.canParse(text)) return false;
  const { origin, protocol } = new URL(text);
  return (protocol === 'http:' || protocol === 'https:') && origin === text.toLowerCase();
}
