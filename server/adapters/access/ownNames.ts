// Under which names and addresses this machine may be called, and which one a phone in the same network can open.
import { isIP } from 'node:net';
import { hostname, networkInterfaces } from 'node:os';
import { isFromOtherSite, LOOPBACK_HOSTS, type PageHeaders } from '../../contract/index.ts';
import type { Origins } from '../../application/ports/accessDoors.ts';

/**
 * Names of the web that a foreign page could bend to our address are refused; an address in numbers cannot be bent.
 * Listed origins stand alone, beside this machine's own loopback.
 */
export function makeOrigins({
  tls,
  listed,
  host: boundHost,
}: {
  tls: boolean;
  listed: readonly string[] | undefined;
  /** Where the server listens. */
  host: string;
}): Origins {
  const scheme = tls ? 'https' : 'http';
  const origins = new Set((listed ?? []).map((origin) => new URL(origin).origin));
  const hosts = new Set([...origins].map((origin) => new URL(origin).host));
  const own = hostname().toLowerCase();
  const names = new Set<string>([...LOOPBACK_HOSTS, ...(listed === undefined ? [own, `${own}.local`] : [])]);
  const isOurHost = (host: string): boolean => {
    const name = nameIn(host);
    if (name === null) return false;
    return names.has(name) || hosts.has(host.toLowerCase()) || (listed === undefined && isIP(name) !== 0);
  };
  return {
    isOurs(headers: PageHeaders) {
      const { host = '', origin } = headers;
      // Our cookies do not come along where a link was followed from elsewhere.
      if (!isOurHost(host) || isFromOtherSite(headers)) return false;
      return origin === undefined || origins.has(origin) || origin === originOf(scheme, host);
    },
    addressFor(host) {
      const [first] = origins;
      if (first !== undefined) return first;
      const address = new URL(`${scheme}://${host}`);
      const isHere =
        LOOPBACK_HOSTS.some((one) => one === nameIn(host)) || EVERY_ADDRESS.has(nameIn(host) ?? '');
      // A phone cannot open this machine by the name it has for itself.
      if (isHere && EVERY_ADDRESS.has(boundHost)) address.hostname = addressInNetwork() ?? 'localhost';
      return address.origin;
    },
  };
}

const EVERY_ADDRESS: ReadonlySet<string> = new Set(['0.0.0.0', '::']);

function nameIn(host: string): string | null {
  return URL.canParse(`http://${host}`) ? new URL(`http://${host}`).hostname.replace(/^\[|\]$/g, '') : null;
}

function originOf(scheme: string, host: string): string {
  return new URL(`${scheme}://${host}`).origin;
}

function addressInNetwork(): string | null {
  const all = Object.values(networkInterfaces()).flatMap((addresses) => addresses ?? []);
  return all.find(({ family, internal }) => family === 'IPv4' && !internal)?.address ?? null;
}
