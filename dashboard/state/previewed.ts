// What became of a "what if".
import type { EstimateWire, ProblemWire } from '../../server/contract/index.ts';

export type Previewed =
  | { readonly kind: 'estimate'; readonly estimate: EstimateWire }
  | { readonly kind: 'refused'; readonly problem: Partial<ProblemWire> }
  | { readonly kind: 'unanswered'; readonly why: 'network' | 'server' };
