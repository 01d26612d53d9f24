// Views as they were last read, for as long as the ledger's head stands: they are looked at many times between two facts.
// Only saves work: the store is asked for its head at each look, so that one in trouble is noticed as before.
import type { Sequence } from '../domain/facts.ts';
import type { Ledger, ViewChange } from './ports/ledger.ts';

interface Memory {
  head: Sequence | null;
  readonly views: Map<string, unknown>;
  readonly openViews: Map<string, readonly ViewChange[]>;
}

/**
 * The same ledger, whose views are read once for each head. What it hands out is shared: nobody may change it, which
 * the types of the views see to.
 */
export function rememberViews(ledger: Ledger): Ledger {
  const memory: Memory = { head: null, views: new Map(), openViews: new Map() };
  return {
    ...ledger,
    readView: (kind, id) =>
      remembered(ledger, memory, {
        of: ({ views }) => views,
        name: `${kind} ${id}`,
        read: () => ledger.readView(kind, id),
      }),
    readViews: async (kind, which) => {
      if (!which.openOnly) return ledger.readViews(kind, which);
      const read = (): Promise<readonly ViewChange[]> => ledger.readViews(kind, which);
      return remembered(ledger, memory, { of: ({ openViews }) => openViews, name: kind, read });
    },
    // Views may change without a fact, and so without a new head.
    append: (entry) => forgetting(memory, () => ledger.append(entry)),
    replaceViews: (changes) => forgetting(memory, () => ledger.replaceViews(changes)),
  };
}

/** What is read was there at this head or came later: then the head has moved, and the next look finds it out. */
async function remembered<T>(
  ledger: Ledger,
  memory: Memory,
  { of, name, read }: { of: (memory: Memory) => Map<string, T>; name: string; read: () => Promise<T> },
): Promise<T> {
  const head = await ledger.readHead();
  if (memory.head !== head) forget(memory, head);
  const known = of(memory);
  if (known.has(name)) return known.get(name) as T;
  const found = await read();
  if (memory.head === head) known.set(name, found);
  return found;
}

/** Before, so that nobody keeps what is read meanwhile; and after. */
async function forgetting<T>(memory: Memory, write: () => Promise<T>): Promise<T> {
  forget(memory, null);
  try {
    return await write();
  } finally {
    forget(memory, null);
  }
}

function forget(memory: Memory, head: Sequence | null): void {
  memory.head = head;
  memory.views.clear();
  memory.openViews.clear();
}
