// Holds what a card would mean while its form is typed in: the last answer stays until the next one is there.
import { useEffect, useState } from 'preact/hooks';
import { previewCard } from '../../actions/setupActs.ts';
import { type CardPreviewed, previewBodyOf } from '../../state/setupCard.ts';
import type { FormPlan } from '../../state/setupForm.ts';

export interface CardPreviewState {
  /** Null before the first answer, or while a field is empty or half typed. */
  readonly answer: CardPreviewed | null;
  /** Whether what is typed is not answered yet. */
  readonly isPending: boolean;
}

/** The answer to what is typed now, or to what was typed a moment ago. */
export function useCardPreview(plan: FormPlan): CardPreviewState {
  const body = previewBodyOf(plan);
  const question = body === null ? null : JSON.stringify(body);
  const [held, setHeld] = useState<{ readonly question: string; readonly answer: CardPreviewed } | null>(
    null,
  );
  useEffect(() => {
    if (question === null) return undefined;
    const stop = new AbortController();
    void previewCard(JSON.parse(question) as Record<string, unknown>, stop.signal).then((answer) =>
      answer === null ? undefined : setHeld({ question, answer }),
    );
    return () => stop.abort();
  }, [question]);
  return {
    answer: question === null ? null : (held?.answer ?? null),
    isPending: question !== null && held?.question !== question,
  };
}
