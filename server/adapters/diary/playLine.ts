// Plays one line of a diary through the doors of the shop, as the sensor or the person would have come.
import type { Answer, Doors } from '../../application/ports/doors.ts';
import type { Refusal } from '../../contract/index.ts';
import type { DiaryCommand, DiaryLine } from './parseDiary.ts';

/** Which batch of the shop a diary's label stands for. */
export interface DiaryLabels {
  /** The batch that is started next is this one. */
  begin(label: string): void;
  makeId(): string;
  /** The batch of a label that has begun; there is none behind it where the start was refused. */
  idOf(label: string): string;
  /** Null for what is of no batch. */
  labelOf(batchId: string | null): string | null;
}

/** A line and where it stands, counted from 1. */
export interface PlacedLine {
  readonly line: DiaryLine;
  readonly lineIndex: number;
}

type PlayDoors = Pick<Doors, 'recordReading' | 'startBatch' | 'handleCommand' | 'readBatch'>;

/** Plays a line at the instant at which the clock stands; says why when the shop would not have it. */
export async function playLine(
  { doors, labels }: { readonly doors: PlayDoors; readonly labels: DiaryLabels },
  { line, lineIndex }: PlacedLine,
): Promise<Refusal | null> {
  // Each line is asked once.
  const key = `line-${lineIndex}`;
  switch (line.kind) {
    case 'reading':
      await doors.recordReading([line.reading]);
      return null;
    case 'start':
      labels.begin(line.label);
      return refusalOf(await doors.startBatch({ key, body: line.body }));
    case 'act':
      return playAct(doors, { batchId: labels.idOf(line.label), key, command: line.command });
    case 'truth':
      return null;
  }
}

/** Makes labels for a shop whose batches are counted, so that the same diary gives the same facts. */
export function makeDiaryLabels(): DiaryLabels {
  const idsByLabel = new Map<string, string>();
  const labelsById = new Map<string, string>();
  let nextId = '';
  return {
    begin(label) {
      nextId = `batch-${idsByLabel.size + 1}`;
      idsByLabel.set(label, nextId);
      labelsById.set(nextId, label);
    },
    makeId: () => nextId,
    idOf(label) {
      const batchId = idsByLabel.get(label);
      if (batchId === undefined) throw new Error('a label begins before it is spoken of');
      return batchId;
    },
    labelOf: (batchId) => (batchId === null ? null : (labelsById.get(batchId) ?? null)),
  };
}

async function playAct(
  doors: PlayDoors,
  { batchId, key, command }: { batchId: string; key: string; command: DiaryCommand },
): Promise<Refusal | null> {
  if (command.type !== 'undoLatest')
    return refusalOf(await doors.handleCommand(batchId, { key, body: command }));
  const { type: _type, ...more } = command;
  const factSequence = (await doors.readBatch(batchId))?.lastAct?.factSequence;
  if (factSequence === undefined)
    return { code: 'nothing-to-undo', sentence: 'There is nothing left to take back.' };
  return refusalOf(
    await doors.handleCommand(batchId, { key, body: { type: 'undo', factSequence, ...more } }),
  );
}

function refusalOf(answer: Answer): Refusal | null {
  if (answer.kind === 'key-reused') throw new Error('each line has a key of its own');
  return answer.kind === 'refused' ? answer.refusal : null;
}
