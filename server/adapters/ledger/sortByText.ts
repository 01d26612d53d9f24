// One order of texts for every store: that of their UTF-8 bytes, as databases sort.

/** Sorts copies of the references by a text of each item, byte by byte. */
export function sortByText<T>(items: Iterable<T>, textOf: (item: T) => string): T[] {
  return Array.from(items, (item) => ({ item, bytes: Buffer.from(textOf(item)) }))
    .sort((left, right) => Buffer.compare(left.bytes, right.bytes))
    .map(({ item }) => item);
}
