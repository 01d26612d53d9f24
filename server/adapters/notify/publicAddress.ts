// Whether an address of the network is the world's: a phone's subscription must not make this program ask around in the shop.
import { BlockList, isIPv4, isIPv6 } from 'node:net';

/** Says of an IP address whether a message may go there. */
export type AddressRule = (address: string) => boolean;

/** True for what is reachable from everywhere; false for loopback, private, link-local, shared and reserved ones. */
export function isPublicAddress(address: string): boolean {
  if (isIPv4(address)) return !SPECIAL.check(address, 'ipv4');
  if (!isIPv6(address)) return false;
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address)?.[1];
  if (mapped !== undefined) return isPublicAddress(mapped);
  return !SPECIAL.check(address, 'ipv6');
}

/** Of the registries of special-purpose addresses (RFC 6890 and its updates) all that lead nowhere public. */
const SPECIAL = makeSpecial();

function makeSpecial(): BlockList {
  const list = new BlockList();
  for (const [network, prefixLength] of [
    ['0.0.0.0', 8],
    ['10.0.0.0', 8],
    ['100.64.0.0', 10],
    ['127.0.0.0', 8],
    ['169.254.0.0', 16],
    ['172.16.0.0', 12],
    ['192.0.0.0', 24],
    ['192.0.2.0', 24],
    ['192.88.99.0', 24],
    ['192.168.0.0', 16],
    ['198.18.0.0', 15],
    ['198.51.100.0', 24],
    ['203.0.113.0', 24],
    ['224.0.0.0', 4],
    ['240.0.0.0', 4],
  ] as const)
    list.addSubnet(network, prefixLength, 'ipv4');
  for (const [network, prefixLength] of [
    ['::', 96],
    // What carries an address of IPv4 in it leads there, by a translator or a tunnel that may stand in the shop.
    ['::ffff:0:0:0', 96],
    ['64:ff9b::', 96],
    ['64:ff9b:1::', 48],
    ['100::', 64],
    ['2001::', 32],
    ['2001:db8::', 32],
    ['2002::', 16],
    ['fc00::', 7],
    ['fe80::', 10],
    ['fec0::', 10],
    ['ff00::', 8],
  ] as const)
    list.addSubnet(network, prefixLength, 'ipv6');
  return list;
}
