// Holds the answer to a "what if" for as long as the question stands, and asks again when what lies under it has changed.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Previewed } from '../state/previewed.ts';

export interface PreviewQuestion {
  /** What is asked, as text: another text drops the answer. */
  readonly question: string;
  /** What the answer rests on: another text asks again and keeps the answer meanwhile. */
  readonly restsOn: string;
  readonly ask: (signal: AbortSignal) => Promise<Previewed | null>;
}

/** The answer, or null while there is none yet. */
export function usePreview({ question, restsOn, ask }: PreviewQuestion): Previewed | null {
  const [held, setHeld] = useState<{ readonly question: string; readonly previewed: Previewed } | null>(null);
  const askRef = useRef(ask);
  useEffect(() => {
    askRef.current = ask;
  });
  useEffect(() => {
    const stop = new AbortController();
    const read = async (): Promise<void> => {
      const previewed = await askRef.current(stop.signal);
      if (previewed !== null) setHeld({ question, previewed });
    };
    void read();
    return () => stop.abort();
  }, [question, restsOn]);
  return held?.question === question ? held.previewed : null;
}
