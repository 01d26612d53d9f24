// Views as they were last read, for as long as the ledger's head stands: they are looked at many times between two facts.
// Only saves work: the store is asked for its head at each look, so that one in trouble is noticed as before.
import type { Sequence } from '../domain/facts.ts';
import type { Appended, Ledger, LedgerEntry, ViewChange, ViewKind } from './ports/ledger.ts';

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
    readView: async (kind, id) => {
      const name = `${kind} ${id}`;
      const open =
        CARRIED_KINDS.has(kind) && (await isLevel(ledger, memory)) ? memory.openViews.get(kind) : undefined;
      const found = open?.find((view) => view.id === id);
      if (found !== undefined) return found.body;
      return remembered(ledger, memory, {
        of: ({ views }) => views,
        name,
        read: () => ledger.readView(kind, id),
      });
    },
    readViews: async (kind, which) => {
      if (!which.openOnly) return ledger.readViews(kind, which);
      const read = (): Promise<readonly ViewChange[]> => ledger.readViews(kind, which);
      return remembered(ledger, memory, { of: ({ openViews }) => openViews, name: kind, read });
    },
    append: (entry) => appending(ledger, memory, entry),
    replaceViews: (changes) => forgetting(memory, () => ledger.replaceViews(changes)),
  };
}

async function isLevel(ledger: Ledger, memory: Memory): Promise<boolean> {
  return memory.head === (await ledger.readHead());
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

/**
 * Which batches and alerts were open before an entry is known after it, with the entry's own in it: in a shop with many
 * batches each fact would else make all of them be read again. Without a fact there is no new head to tell by what is read
 * meanwhile.
 */
async function appending(ledger: Ledger, memory: Memory, entry: LedgerEntry): Promise<Appended> {
  const isKnown = memory.head === entry.afterSequence && entry.facts.length > 0;
  const known = isKnown ? [...memory.openViews].filter(([kind]) => CARRIED_KINDS.has(kind)) : [];
  const appended = await forgetting(memory, () => ledger.append(entry));
  if (known.length === 0 || appended.kind === 'conflict') return appended;
  forget(memory, appended.sequence);
  for (const [kind, open] of known) memory.openViews.set(kind, withChanges(open, kind, entry.views));
  return appended;
}

/** Open views with some changed, in order of id as the store gives them. */
function withChanges(
  open: readonly ViewChange[],
  kind: string,
  changes: readonly ViewChange[],
): readonly ViewChange[] {
  const changed = new Map(changes.filter((view) => view.kind === kind).map((view) => [view.id, view]));
  if (changed.size === 0) return open;
  const stay = open.filter(({ id }) => !changed.has(id));
  const come = [...changed.values()].filter(({ isOpen }) => isOpen);
  const copies = come.map((view) => ({ ...view, body: copyOf(view.body) }));
  return [...stay, ...copies].toSorted((a, b) => (a.id < b.id ? -1 : 1));
}

/** As the store would give it back. */
function copyOf(body: unknown): unknown {
  return JSON.parse(JSON.stringify(body));
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

/** There are many of these, and they change with the entries alone that name them. */
const CARRIED_KINDS: ReadonlySet<string> = new Set<ViewKind>(['batch', 'alert']);
