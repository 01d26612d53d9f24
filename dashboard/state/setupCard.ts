// What became of asking what a card would mean, and the body of the question.
import type { CardPreviewWire } from '../../server/contract/index.ts';
import { bodyOf, type FormPlan, formOf, mistakesIn } from './setupForm.ts';
import { CARD_NUMBERS } from './setupPlans.ts';
import type { FieldError } from './sources.ts';

export type CardPreviewed =
  | { readonly kind: 'preview'; readonly preview: CardPreviewWire }
  | { readonly kind: 'refused'; readonly errors: readonly FieldError[] }
  | { readonly kind: 'unanswered' };

/** The question of a card's form; null while a field is empty or half typed. */
export function previewBodyOf(plan: FormPlan): Record<string, unknown> | null {
  if (mistakesIn(plan, TIMED_PATHS).length > 0) return null;
  const values = { ...plan.held, ...formOf(plan).typed };
  return bodyOf({ ...plan, always: [], fixed: {} }, values, TIMED_PATHS);
}

/** The fields of a card that its times follow from. */
const TIMED_PATHS = ['fill', ...CARD_NUMBERS, 'humidityEffectPer10Pct'] as const;
