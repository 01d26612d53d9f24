// The ledger of one shop: facts with a gapless sequence, the views derived from them, answers already given.
import type { Instant } from '../../contract/index.ts';
import type { BatchId, Fact, Sequence } from '../../domain/facts.ts';

/**
 * lessons: what closed batches of a product showed; learned: what is believed of it since; settings: what was said by
 * hand; alertBook: alerts of no batch; accessLog: who came and went;
 * delivery: what was told outside the pages of an alert.
 */
export type ViewKind =
  'batch' | 'alert' | 'card' | 'lessons' | 'learned' | 'settings' | 'alertBook' | 'accessLog' | 'delivery';

/** One view as it stands after an entry; views are documents, rebuilt from facts at any time. */
export interface ViewChange {
  readonly kind: ViewKind;
  readonly id: string;
  readonly isOpen: boolean;
  /** Plain JSON. */
  readonly body: unknown;
}

/** The answer to a command, kept so that the same key is answered again and not done again. */
export interface KeptAnswer {
  readonly key: string;
  /** What was asked, in a canonical text: the same key with another question is an error. */
  readonly fingerprint: string;
  readonly at: Instant;
  /** Plain JSON. */
  readonly body: unknown;
}

/** What is appended in one transaction: all of it or nothing. */
export interface LedgerEntry {
  /** The head that the decision was based on. */
  readonly afterSequence: Sequence;
  /** Sequences run on from afterSequence without a gap. */
  readonly facts: readonly Fact[];
  readonly views: readonly ViewChange[];
  readonly answer?: KeptAnswer;
}

export type Appended =
  | { readonly kind: 'appended'; readonly sequence: Sequence }
  | { readonly kind: 'conflict'; readonly sequence: Sequence };

export interface FactQuery {
  readonly afterSequence: Sequence;
  readonly batchId?: BatchId;
  readonly limit: number;
}

/** Every method throws PortFailure when the store did not do its work. */
export interface Ledger {
  /** Changes when a ledger is restored, so that a screen that holds another reads everything anew. */
  readonly ledgerId: string;
  /** 0 when empty. */
  readHead(): Promise<Sequence>;
  append(entry: LedgerEntry): Promise<Appended>;
  /** In order of sequence. */
  readFacts(query: FactQuery): Promise<readonly Fact[]>;
  readView(kind: ViewKind, id: string): Promise<unknown>;
  /** In order of id; closed ones too when asked. */
  readViews(kind: ViewKind, which: { readonly openOnly: boolean }): Promise<readonly ViewChange[]>;
  /** Puts these views in place of all there are, in one transaction. */
  replaceViews(views: readonly ViewChange[]): Promise<void>;
  readAnswer(key: string): Promise<KeptAnswer | null>;
  /** Drops the answers given before an instant and returns how many. */
  forgetAnswers(beforeAt: Instant): Promise<number>;
  /** Writes something and takes it away again: it succeeds where there is room and nothing stands against a write. */
  probe(): Promise<void>;
  /** Finishes what was taken and closes. */
  close(): Promise<void>;
}
