// A reader of RFC 4180 for tests, written from its grammar and not from our writer.

/** The rows of a text; throws where the text breaks the grammar. */
export function parseCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let place = 0;
  while (place < text.length) {
    const { cell, nextIndex } = text[place] === '"' ? readQuoted(text, place) : readBare(text, place);
    row.push(cell);
    if (text[nextIndex] === ',') {
      place = nextIndex + 1;
      if (place === text.length) throw new Error('ends with a comma and no line end');
      continue;
    }
    if (text.slice(nextIndex, nextIndex + 2) !== '\r\n') throw new Error(`no line end at ${nextIndex}`);
    rows.push(row);
    row = [];
    place = nextIndex + 2;
  }
  return rows;
}

interface Read {
  readonly cell: string;
  readonly nextIndex: number;
}

function readBare(text: string, startIndex: number): Read {
  const length = text.slice(startIndex).search(/[,\r\n"]/);
  const nextIndex = length === -1 ? text.length : startIndex + length;
  if (text[nextIndex] === '"') throw new Error(`a quote inside a bare cell at ${nextIndex}`);
  return { cell: text.slice(startIndex, nextIndex), nextIndex };
}

function readQuoted(text: string, startIndex: number): Read {
  let cell = '';
  for (let place = startIndex + 1; place < text.length; place += 1) {
    if (text[place] !== '"') {
      cell += text[place];
    } else if (text[place + 1] === '"') {
      cell += '"';
      place += 1;
    } else {
      return { cell, nextIndex: place + 1 };
    }
  }
  throw new Error(`a quote that never ends at ${startIndex}`);
}
