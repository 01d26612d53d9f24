// One who asks is one source, however many addresses the network hands out and however each is written.
import { describe, expect, it } from 'vitest';
import { addressSource } from '../../server/contract/index.ts';

describe('the source of an address', () => {
  it.each([
    ['192.0.2.7', '192.0.2.7'],
    ['::ffff:192.0.2.7', '192.0.2.7'],
    ['::ffff:c000:207', '192.0.2.7'],
    ['::FFFF:255.0.128.1', '255.0.128.1'],
    ['127.0.0.1', '127.0.0.1'],
    ['::1', '::1'],
    ['::', '0:0:0:0'],
    ['fe80::1234:5678:9abc:def0', 'fe80:0:0:0'],
    ['fe80::1', 'fe80:0:0:0'],
    ['fe80::1%eth0', 'fe80:0:0:0'],
    ['fe80::1:2%12', 'fe80:0:0:0'],
    ['2001:db8:1:2:3:4:5:6', '2001:db8:1:2'],
    ['2001:0DB8:0001:0002::6', '2001:db8:1:2'],
    ['2001:db8::3:4:5:6', '2001:db8:0:0'],
    ['2001:db8:1::', '2001:db8:1:0'],
    ['2001:db8:1:2:3:4:192.0.2.7', '2001:db8:1:2'],
    ['64:ff9b::192.0.2.7', '64:ff9b:0:0'],
    ['', ''],
    ['no:address', 'no:address'],
  ])('%s is %s', (address, source) => {
    expect(addressSource(address)).toBe(source);
  });

  it('is another one for another network', () => {
    expect(addressSource('2001:db8:1:2::1')).not.toBe(addressSource('2001:db8:1:3::1'));
  });
});
