// What the simulator says aloud: one line when something changes, never a measurement.

/** Says a line; the same line again only after another one. */
export function makeReport(): (line: string) => void {
  let lastLine = '';
  return (line) => {
    if (line !== lastLine) console.log(`simulate: ${line}`);
    lastLine = line;
  };
}
