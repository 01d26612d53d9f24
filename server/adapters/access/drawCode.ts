// An address as a QR code, drawn here so that no page has to carry the way of drawing it.
import { encode } from 'uqr';

/** The code's rows without its quiet margin; # is dark. */
export function drawCode(text: string): string[] {
  const { data } = encode(text, { ecc: 'M', border: 0 });
  return data.map((row) => row.map((isDark) => (isDark ? '#' : ' ')).join(''));
}
