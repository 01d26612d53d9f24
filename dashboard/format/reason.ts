// Why the time is what it is: one sentence from the largest cause, and one line for each thing to mind.
import type { BatchWire, NoteCode, Reason } from '../../server/contract/index.ts';
import { formatClock, type Place } from './clock.ts';
import { formatDose, formatPlain, formatThickness, formatWholeTemperature } from './numbers.ts';
import { epochAt, MS_PER_MIN } from './phase.ts';
import type { Words } from './words.en.ts';

/** What a sentence needs to know beside the batch. */
export interface Naming {
  readonly words: Words;
  readonly place: Place;
  readonly bayName: (bayId: string) => string;
  readonly card: { readonly name: string; readonly sandMin: number; readonly lowestC: number } | null;
}

export interface Note {
  readonly code: NoteCode;
  readonly tone: 'stop' | 'warn' | 'plain';
  readonly sentence: string;
}

/** The sentence of the largest cause; null where there is no time to explain. */
export function formatReason(batch: BatchWire, naming: Naming): string | null {
  const { estimate } = batch;
  if (estimate === null || estimate.expectedMin === null) return null;
  const largest = [...estimate.reasons].sort((a, b) => Math.abs(b.minutes) - Math.abs(a.minutes))[0];
  if (largest === undefined || Math.round(Math.abs(largest.minutes)) < 1) {
    return naming.words.reason.asOnCard(Math.round(estimate.expectedMin));
  }
  return sentenceOf(largest, batch, naming);
}

/** Everything a person must mind about this batch, the gravest first. */
export function formatNotes(batch: BatchWire, naming: Naming): Note[] {
  const order = { stop: 0, warn: 1, plain: 2 } as const;
  return (batch.estimate?.notes ?? [])
    .map((code) => ({ code, tone: toneByNote[code], sentence: noteSentence(code, batch, naming) }))
    .sort((a, b) => order[a.tone] - order[b.tone]);
}

function sentenceOf(reason: Reason, batch: BatchWire, naming: Naming): string {
  const { words, place } = naming;
  const against = words.reason.againstCard(Math.round(reason.minutes));
  const temperatureOf = (valueC: number | undefined): string | null =>
    valueC === undefined ? null : formatWholeTemperature(valueC, place);
  switch (reason.code) {
    case 'bay-cold':
    case 'bay-warm': {
      const bay = naming.bayName(reason.bayId ?? batch.bayId);
      const air = temperatureOf(reason.airTemperatureC);
      return words.reason.bay({ bay, air, isCold: reason.code === 'bay-cold', against });
    }
    case 'car-cold':
    case 'car-warm': {
      const panel = temperatureOf(reason.panelTemperatureC);
      return words.reason.car({ panel, isCold: reason.code === 'car-cold', against });
    }
    case 'edge': {
      const afterMin = edgeAfterBuildMin(batch);
      return afterMin >= 1 ? words.reason.edgeLast(afterMin) : words.reason.edge(against);
    }
    case 'film':
      return words.reason.film({
        thickness: formatThickness(batch.thicknessMm, place),
        isFaster: reason.minutes < 0,
        against,
      });
    case 'hardener':
      return words.reason.hardener(formatDose(batch.hardenerPct, place.locale), against);
    case 'lamp':
      return words.reason.lamp(reason.minutes < 0, against);
    case 'product':
      return words.reason.product(naming.card?.name ?? batch.cardId, against);
  }
}

function edgeAfterBuildMin(batch: BatchWire): number {
  const buildAt = epochAt(batch.estimate?.buildP50At);
  const edgeAt = epochAt(batch.estimate?.edgeP50At);
  return buildAt === null || edgeAt === null ? 0 : Math.round((edgeAt - buildAt) / MS_PER_MIN);
}

function noteSentence(code: NoteCode, batch: BatchWire, naming: Naming): string {
  const { words, place, card } = naming;
  const bay = naming.bayName(batch.bayId);
  switch (code) {
    case 'no-air':
      return words.note.noAir(bay, card === null ? null : formatPlain(card.sandMin, place.locale));
    case 'air-stale':
      return words.note.airStale(bay);
    case 'air-gap':
      return words.note.airGap(bay);
    case 'too-cold':
      return words.note.tooCold(card === null ? null : formatWholeTemperature(card.lowestC, place));
    case 'gummed': {
      const gummedAt = epochAt(batch.checks.findLast((check) => check.outcome === 'gums')?.at);
      return words.note.gummed(gummedAt === null ? null : formatClock(gummedAt, place));
    }
    case 'humidity-assumed':
    case 'stalled':
    case 'condensation-hold':
    case 'too-hot':
    case 'hardener-low':
    case 'hardener-high':
    case 'film-thick':
      return words.note[code];
  }
}

const toneByNote: Readonly<Record<NoteCode, Note['tone']>> = {
  'condensation-hold': 'stop',
  'too-hot': 'stop',
  stalled: 'stop',
  'no-air': 'warn',
  'air-stale': 'warn',
  'air-gap': 'plain',
  'too-cold': 'warn',
  'hardener-low': 'warn',
  'hardener-high': 'warn',
  'film-thick': 'warn',
  gummed: 'plain',
  'humidity-assumed': 'plain',
};
