// Why an act was refused, in the reader's language. The wire speaks English and has a code for each refusal.
import type { ProblemWire } from '../../server/contract/index.ts';
import type { Words } from './words.en.ts';

/** The refusal in one sentence; null where neither code nor sentence is known. */
export function formatRefusal(
  { code, detail }: Partial<ProblemWire>,
  { language, refusal }: Words,
): string | null {
  // The wire's own sentence knows more than its code does.
  if (language === 'en' && detail !== undefined) return detail;
  return code !== undefined && isKnown(code, refusal) ? refusal[code] : null;
}

/** Whether a text is one of the refusals' codes. */
export function isKnown(code: string, refusal: Words['refusal']): code is keyof Words['refusal'] {
  return Object.hasOwn(refusal, code);
}
