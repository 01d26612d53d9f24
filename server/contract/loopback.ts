// Who may ask while there is no sign-in: only pages that were opened on this very machine.

/** The names of this machine to itself. */
export const LOOPBACK_HOSTS = ['127.0.0.1', '::1', 'localhost'] as const;

/**
 * Whether a request was meant for this machine by a page of this machine: a page of another site carries its own
 * origin, and a name that was bent to our address carries itself as host.
 */
export function isFromHere({
  host,
  origin,
}: {
  host?: string | undefined;
  origin?: string | undefined;
}): boolean {
  return isLoopback(`http://${host ?? ''}`) && (origin === undefined || isLoopback(origin));
}

function isLoopback(address: string): boolean {
  if (!URL.canParse(address)) return false;
  const name = new URL(address).hostname.replace(/^\[|\]$/g, '');
  return LOOPBACK_HOSTS.some((host) => host === name);
}
