// The ledger in memory. Everything is kept as JSON text: nobody holds a part of it, and both stores keep the same.
import type {
  Appended,
  FactQuery,
  KeptAnswer,
  Ledger,
  LedgerEntry,
  ViewChange,
  ViewKind,
} from '../../../application/ports/ledger.ts';
import type { Instant } from '../../../contract/index.ts';
import type { BatchId, Fact, Sequence } from '../../../domain/facts.ts';
import type { Attempt } from '../attempt.ts';
import { assertEntry, jsonFrom, keepable, keepableOrNull } from '../checkInput.ts';
import { sortByText } from '../sortByText.ts';

interface MemoryLedgerOptions {
  readonly ledgerId: string;
  readonly attempt: Attempt;
  readonly onClose: () => void;
}

interface Kept {
  readonly facts: KeptFact[];
  readonly factsByBatch: Map<BatchId, KeptFact[]>;
  readonly answers: Map<string, { readonly at: Instant; readonly json: string }>;
  readonly views: Views;
  /** The open ones of them once more: they are looked at each minute, and months of closed ones are not to be waded through. */
  readonly openViews: Views;
}

interface KeptFact {
  readonly sequence: Sequence;
  readonly batchId: BatchId | null;
  readonly json: string;
}

type ViewText = Omit<ViewChange, 'body'> & { readonly json: string };
type Views = Map<ViewKind, Map<string, ViewText>>;

/** Makes an empty ledger. */
export function makeMemoryLedger({ ledgerId, attempt, onClose }: MemoryLedgerOptions): Ledger {
  const kept: Kept = {
    facts: [],
    factsByBatch: new Map(),
    answers: new Map(),
    views: new Map(),
    openViews: new Map(),
  };
  return {
    ledgerId,
    readHead: () => attempt('readHead', () => kept.facts.length as Sequence),
    append: async (entry) => {
      assertEntry(entry);
      return attempt('append', () => append(kept, entry));
    },
    readFacts: (query) => attempt('readFacts', () => readFacts(kept, query)),
    readView: (kind, id) => attempt('readView', () => parseOrNull(kept.views.get(kind)?.get(id)?.json)),
    readViews: (kind, { openOnly }) =>
      attempt('readViews', () =>
        sortByText((openOnly ? kept.openViews : kept.views).get(kind)?.values() ?? [], ({ id }) => id).map(
          ({ id, isOpen, json }) => ({ kind, id, isOpen, body: JSON.parse(json) as unknown }),
        ),
      ),
    replaceViews: (changes) =>
      attempt('replaceViews', () => {
        const replacement = changes.map(viewText);
        kept.views.clear();
        kept.openViews.clear();
        putViews(kept, replacement);
      }),
    readAnswer: (key) =>
      attempt('readAnswer', () => parseOrNull(kept.answers.get(key)?.json) as KeptAnswer | null),
    forgetAnswers: (beforeAt) =>
      attempt('forgetAnswers', () => {
        const old = [...kept.answers].filter(([, answer]) => answer.at < beforeAt);
        for (const [key] of old) kept.answers.delete(key);
        return old.length;
      }),
    probe: () => attempt('probe', () => undefined),
    close: async () => onClose(),
  };
}

function append(kept: Kept, entry: LedgerEntry): Appended {
  const head = kept.facts.length as Sequence;
  if (entry.afterSequence !== head) return { kind: 'conflict', sequence: head };
  const { answer } = entry;
  if (answer !== undefined && kept.answers.has(answer.key)) throw new Error('an answer to this key is kept');
  // All is written out before any of it is kept, so that a bad part leaves nothing behind.
  const facts = entry.facts.map(factText);
  const views = entry.views.map(viewText);
  const answerJson = answer === undefined ? null : answerText(answer);
  for (const fact of facts) {
    kept.facts.push(fact);
    if (fact.batchId !== null) listOf(kept.factsByBatch, fact.batchId).push(fact);
  }
  putViews(kept, views);
  if (answer !== undefined && answerJson !== null) {
    kept.answers.set(answer.key, { at: answer.at, json: answerJson });
  }
  return { kind: 'appended', sequence: kept.facts.length as Sequence };
}

function readFacts(kept: Kept, { afterSequence, batchId, limit }: FactQuery): readonly Fact[] {
  const facts =
    batchId === undefined
      ? kept.facts.slice(afterSequence, afterSequence + limit)
      : (kept.factsByBatch.get(batchId) ?? [])
          .filter(({ sequence }) => sequence > afterSequence)
          .slice(0, limit);
  return facts.map(({ json }) => JSON.parse(json) as Fact);
}

function factText(fact: Fact): KeptFact {
  keepableOrNull(fact.by);
  keepableOrNull(fact.batchId);
  keepableOrNull(fact.bayId);
  jsonFrom(fact.body);
  return { sequence: fact.sequence, batchId: fact.batchId, json: jsonFrom(fact) };
}

function viewText({ kind, id, isOpen, body }: ViewChange): ViewText {
  return { kind, id: keepable(id), isOpen, json: jsonFrom(body) };
}

function answerText(answer: KeptAnswer): string {
  keepable(answer.key);
  keepable(answer.fingerprint);
  jsonFrom(answer.body);
  return jsonFrom(answer);
}

function putViews({ views, openViews }: Kept, changes: readonly ViewText[]): void {
  for (const view of changes) {
    viewsOfKind(views, view.kind).set(view.id, view);
    const open = viewsOfKind(openViews, view.kind);
    if (view.isOpen) open.set(view.id, view);
    else open.delete(view.id);
  }
}

function viewsOfKind(views: Views, kind: ViewKind): Map<string, ViewText> {
  const ofKind = views.get(kind) ?? new Map<string, ViewText>();
  views.set(kind, ofKind);
  return ofKind;
}

function listOf<K, V>(lists: Map<K, V[]>, key: K): V[] {
  const list = lists.get(key) ?? [];
  lists.set(key, list);
  return list;
}

function parseOrNull(json: string | undefined): unknown {
  return json === undefined ? null : (JSON.parse(json) as unknown);
}
