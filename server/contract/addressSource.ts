// Where a request comes from, as far as limits ask: somebody with one network has as many addresses of IPv6 as they like.

/** How many groups of an address of IPv6 name its network; the rest the machine chooses by itself. */
const NETWORK_GROUPS_COUNT = 4;
const GROUPS_COUNT = 8;
/** RFC 4291, 2.5.5.2: an address of IPv4 as a socket of IPv6 sees it. */
const MAPPED = /^0:0:0:0:0:ffff:/;

/** Where an address belongs for limits: one of IPv4 is itself, one of IPv6 the network that hands out such. */
export function addressSource(address: string): string {
  // The zone names the way out of this machine, not the one who asks.
  const plain = address.replace(/%.*$/, '');
  const groups = groupsOf(plain);
  if (groups === null || plain === '::1') return plain;
  const whole = groups.join(':');
  if (!MAPPED.test(whole)) return groups.slice(0, NETWORK_GROUPS_COUNT).join(':');
  return groups
    .slice(-2)
    .map((group) => Number.parseInt(group, 16))
    .flatMap((pair) => [pair >> 8, pair & 0xff])
    .join('.');
}

/** All groups of an address of IPv6, each without zeros in front; null for anything else. */
function groupsOf(address: string): string[] | null {
  if (!address.includes(':') || !URL.canParse(`http://[${address}]`)) return null;
  // The parser of addresses writes them in one way (RFC 5952), with the longest run of zeros left out.
  const [head = [], tail = []] = new URL(`http://[${address}]`).hostname
    .slice(1, -1)
    .split('::')
    .map((part) => part.split(':').filter((group) => group !== ''));
  return [...head, ...Array<string>(GROUPS_COUNT - head.length - tail.length).fill('0'), ...tail];
}
