// Who may ask while there is no sign-in: only pages that were opened on this very machine.

/** The names of this machine to itself. */
export const LOOPBACK_HOSTS = ['127.0.0.1', '::1', 'localhost'] as const;

/** What a request says of the page that sent it. */
export interface PageHeaders {
  readonly host?: string | undefined;
  readonly origin?: string | undefined;
  readonly 'sec-fetch-site'?: string | string[] | undefined;
  readonly 'sec-fetch-mode'?: string | string[] | undefined;
  readonly 'sec-fetch-dest'?: string | string[] | undefined;
}

/**
 * Whether a request was meant for this machine by a page of this machine: a page of another site carries its own
 * origin or is told by its browser, and a name that was bent to our address carries itself as host.
 */
export function isFromHere(headers: PageHeaders): boolean {
  const { host, origin } = headers;
  if (isFromOtherSite(headers)) return false;
  return isLoopback(`http://${host ?? ''}`) && (origin === undefined || isLoopback(origin));
}

/**
 * Whether a page of another site has its browser ask here: for a picture or a file it carries no origin. Somebody may
 * follow a link to a page of ours from anywhere. Sensors and older browsers say nothing of all this, and pass.
 */
export function isFromOtherSite(headers: PageHeaders): boolean {
  if (!namesOtherSite(headers)) return false;
  const { 'sec-fetch-mode': mode, 'sec-fetch-dest': dest } = headers;
  // A frame navigates as well, without anybody having followed anything.
  return mode !== 'navigate' || (dest !== undefined && dest !== 'document');
}

/** Whether the browser says that a page of another site led here, by whatever way. */
export function namesOtherSite({ 'sec-fetch-site': site }: PageHeaders): boolean {
  return site === 'cross-site' || site === 'same-site';
}

function isLoopback(address: string): boolean {
  if (!URL.canParse(address)) return false;
  const name = new URL(address).hostname.replace(/^\[|\]$/g, '');
  return LOOPBACK_HOSTS.some((host) => host === name);
}
