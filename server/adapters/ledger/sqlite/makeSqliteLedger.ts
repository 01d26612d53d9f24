// The ledger in SQLite: plain prepared statements, one transaction for each entry.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';
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
import type { Fact, Sequence } from '../../../domain/facts.ts';
import { assertEntry, assertRunsOn, jsonFrom, keepable, keepableOrNull } from '../checkInput.ts';
import { gatherLog } from './durableFile.ts';
import { inTransaction } from './inTransaction.ts';
import { type LedgerStatements, prepareLedger } from './ledgerStatements.ts';
import { makeSqliteAttempt } from './makeSqliteAttempt.ts';

interface SqliteLedgerOptions {
  readonly database: DatabaseSyncInstance;
  /** Finishes what others have taken for this database. */
  readonly beforeClose: () => void;
}

/** Makes the ledger of a migrated database. */
export function makeSqliteLedger({ database, beforeClose }: SqliteLedgerOptions): Ledger {
  const attempt = makeSqliteAttempt('ledger', database);
  const statements = prepareLedger(database);
  return {
    ledgerId: (statements.ledgerId.get() as { value: string }).value,
    readHead: () => attempt('readHead', () => readHead(statements)),
    append: async (entry) => {
      assertEntry(entry);
      return attempt('append', () => inTransaction(database, () => append(statements, entry)));
    },
    readFacts: (query) => attempt('readFacts', () => readFacts(statements, query)),
    readView: (kind, id) =>
      attempt('readView', () => {
        const row = statements.view.get(kind, id) as { body: string } | undefined;
        return row === undefined ? null : (JSON.parse(row.body) as unknown);
      }),
    readViews: (kind, { openOnly }) =>
      attempt('readViews', () => {
        const rows = (openOnly ? statements.openViews : statements.views).all(kind) as ViewRow[];
        return rows.map((row) => viewFrom(kind, row));
      }),
    replaceViews: (changes) =>
      attempt('replaceViews', () =>
        inTransaction(database, () => {
          statements.dropViews.run();
          putViews(statements, changes);
        }),
      ),
    readAnswer: (key) => attempt('readAnswer', () => readAnswer(statements, key)),
    forgetAnswers: (beforeAt) => attempt('forgetAnswers', () => forgetAnswers(statements, beforeAt)),
    probe: () => attempt('probe', () => probe(database, statements)),
    close: () =>
      attempt('close', () => {
        if (!database.isOpen) return;
        beforeClose();
        settleLog(database);
        database.close();
      }),
  };
}

/** The file alone is then all there is of the store: it may be carried away. What stays in the log is read from there. */
function settleLog(database: DatabaseSyncInstance): void {
  try {
    gatherLog(database);
  } catch {
    // A full disk or another reader: nothing is lost.
  }
}

function readHead(statements: LedgerStatements): Sequence {
  return (statements.head.get() as { head: Sequence }).head;
}

/** To be run in a transaction: head, facts, views and answer belong together. */
function append(statements: LedgerStatements, entry: LedgerEntry): Appended {
  const head = readHead(statements);
  if (entry.afterSequence !== head) return { kind: 'conflict', sequence: head };
  for (const fact of entry.facts) {
    statements.addFact.run(
      fact.sequence,
      fact.type,
      fact.version,
      fact.at,
      fact.recordedAt,
      keepableOrNull(fact.by),
      keepableOrNull(fact.batchId),
      keepableOrNull(fact.bayId),
      jsonFrom(fact.body),
    );
  }
  putViews(statements, entry.views);
  if (entry.answer !== undefined) {
    const { key, fingerprint, at, body } = entry.answer;
    statements.addAnswer.run(keepable(key), keepable(fingerprint), at, jsonFrom(body));
  }
  return { kind: 'appended', sequence: (head + entry.facts.length) as Sequence };
}

function putViews(statements: LedgerStatements, changes: readonly ViewChange[]): void {
  for (const { kind, id, isOpen, body } of changes) {
    statements.putView.run(kind, keepable(id), isOpen ? 1 : 0, jsonFrom(body));
  }
}

function readFacts(
  statements: LedgerStatements,
  { afterSequence, batchId, limit }: FactQuery,
): readonly Fact[] {
  const rows = (
    batchId === undefined
      ? statements.facts.all(afterSequence, limit)
      : statements.factsOfBatch.all(batchId, afterSequence, limit)
  ) as (Fact & { readonly body: string })[];
  const facts = rows.map(withBody) as Fact[];
  if (batchId === undefined) assertRunsOn(facts, afterSequence);
  return facts;
}

function readAnswer(statements: LedgerStatements, key: string): KeptAnswer | null {
  const row = statements.answer.get(key) as (KeptAnswer & { readonly body: string }) | undefined;
  return row === undefined ? null : withBody(row);
}

function forgetAnswers(statements: LedgerStatements, beforeAt: Instant): number {
  return statements.forgetAnswers.run(beforeAt).changes;
}

/** Two writes: one that needs room, and one that gives it back. */
function probe(database: DatabaseSyncInstance, statements: LedgerStatements): void {
  inTransaction(database, () => statements.takeRoom.run(PROBE_BYTES));
  inTransaction(database, () => statements.giveRoom.run());
}

/** As much as some hundred readings with their batches' estimates take. */
const PROBE_BYTES = 65_536;

interface ViewRow {
  readonly id: string;
  readonly isOpen: 0 | 1;
  readonly body: string;
}

function viewFrom(kind: ViewKind, { id, isOpen, body }: ViewRow): ViewChange {
  return { kind, id, isOpen: isOpen === 1, body: JSON.parse(body) as unknown };
}

/** A plain object with its body parsed; rows come without a prototype, their body as JSON text. */
function withBody<T extends { readonly body: string }>(row: T): Omit<T, 'body'> & { readonly body: unknown } {
  return { ...row, body: JSON.parse(row.body) as unknown };
}
