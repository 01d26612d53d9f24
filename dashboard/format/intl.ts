// The browser's own formatters, each made once: making one costs as much as a hundred uses, and a stack counts every second.

const FORMATTERS_MAX_COUNT = 200;
const numbers = new Map<string, Intl.NumberFormat>();
const dates = new Map<string, Intl.DateTimeFormat>();

/** The formatter for numbers of a language. */
export function numberFormat(locale: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  return takeOrMake(numbers, keyOf(locale, options), () => new Intl.NumberFormat(locale, options));
}

/** The formatter for days and times of a language. */
export function dateFormat(locale: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  return takeOrMake(dates, keyOf(locale, options), () => new Intl.DateTimeFormat(locale, options));
}

function keyOf(locale: string, options: object): string {
  return `${locale} ${JSON.stringify(options)}`;
}

function takeOrMake<Format>(made: Map<string, Format>, key: string, make: () => Format): Format {
  const held = made.get(key);
  if (held !== undefined) return held;
  if (made.size >= FORMATTERS_MAX_COUNT) made.clear();
  const format = make();
  made.set(key, format);
  return format;
}
