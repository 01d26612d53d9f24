// What every part of the Mix form is handed by the sheet around it.
import type { MixDraft } from '../../state/mixDraft.ts';

/** Fields that stand in plain view. */
const choicePaths: readonly string[] = ['cardId', 'panel', 'thicknessMm'];

/** Fields that are folded away under Details. */
export const detailPaths: readonly string[] = [
  'bayId',
  'substrate',
  'hardenerPct',
  'underlayMm',
  'repairOrder',
  'by',
  'mixedAt',
  'rolledInAt',
  'outdoorTemperatureC',
];

/** Whether an error has a field of its own to stand beside. */
export function hasField(path: string): boolean {
  return choicePaths.includes(path) || detailPaths.includes(path);
}

/** What every part of the form is handed. */
export interface MixPartProps {
  readonly draft: MixDraft;
  readonly onChange: (changes: Partial<MixDraft>) => void;
  /** The error of a field, ready to be shown beside it. */
  readonly errorOf: (path: string) => string | null;
}
