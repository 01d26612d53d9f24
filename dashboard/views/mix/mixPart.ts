// What every part of the Mix form is handed by the sheet around it.
import type { MixDraft } from '../../state/mixDraft.ts';

/** What every part of the form is handed. */
export interface MixPartProps {
  readonly draft: MixDraft;
  readonly onChange: (changes: Partial<MixDraft>) => void;
  /** The error of a field, ready to be shown beside it. */
  readonly errorOf: (path: string) => string | null;
}
