// A QR code as the server drew it, always dark on light with its quiet margin, since cameras want it so.

const MARGIN_COUNT = 4;

/** The picture; its label says what it opens. */
export function QrPicture({ rows, label }: { readonly rows: readonly string[]; readonly label: string }) {
  const size = rows.length + 2 * MARGIN_COUNT;
  const dark = rows.flatMap((row, y) =>
    Array.from(row, (cell, x) => (cell === '#' ? `M${x + MARGIN_COUNT} ${y + MARGIN_COUNT}h1v1h-1z` : '')),
  );
  return (
    <svg class="qr" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={label} shapeRendering="crispEdges">
      <rect class="qr-light" width={size} height={size} />
      <path class="qr-dark" d={dark.join('')} />
    </svg>
  );
}
