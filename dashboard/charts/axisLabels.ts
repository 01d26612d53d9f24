// Labels along an axis, each touching its own mark: pushed apart where they would meet, and never out of the box.
// Worked out for the narrowest phone; on a wider axis the same anchors leave every label inside its room.

export interface AxisLabel<Name extends string> {
  readonly name: Name;
  readonly text: string;
  /** The mark's place along the axis, 0…1. */
  readonly fraction: number;
}

export interface PlacedLabel<Name extends string> extends AxisLabel<Name> {
  /** Which point of the label stands on the mark: 0 its left end, 1 its right end. */
  readonly anchorFraction: number;
}

/** The axis of a slip on a screen 320 px wide. */
export const NARROWEST_AXIS_PX = 256;
/** A character of the small type in the widest usual font, and the gap to the next label. */
const CHARACTER_PX = 9;
const GAP_PX = 8;
/** What rounding may add to a place. */
const ROUNDING_FRACTION = 1e-9;

/** Neighbours that stand side by side, and where each of them begins. */
interface Room {
  readonly widthFraction: number;
  readonly startFraction: number;
  readonly placeFractions: readonly number[];
}

/** The room a text takes on the narrowest axis, its gap included. */
export function labelWidthFraction(text: string): number {
  return (CHARACTER_PX * text.length + GAP_PX) / NARROWEST_AXIS_PX;
}

/** Places labels as near to their marks as they have room; null when they cannot all touch their marks. */
export function placeLabels<Name extends string>(
  wanted: readonly AxisLabel<Name>[],
): PlacedLabel<Name>[] | null {
  const labels = [...wanted].sort((a, b) => a.fraction - b.fraction);
  const startsMax = latestStarts(labels);
  const placeFractions = roomsOf(labels).flatMap((room) => room.placeFractions);
  const placed: PlacedLabel<Name>[] = [];
  let freeFromFraction = 0;
  for (const [index, label] of labels.entries()) {
    const widthFraction = labelWidthFraction(label.text);
    const startMin = Math.max(freeFromFraction, label.fraction - widthFraction);
    const startMax = startsMax[index] ?? 0;
    if (startMin > startMax + ROUNDING_FRACTION) return null;
    const start = Math.min(startMax, Math.max(startMin, placeFractions[index] ?? 0));
    const anchorFraction = Math.min(1, Math.max(0, (label.fraction - start) / widthFraction));
    placed.push({ ...label, anchorFraction });
    freeFromFraction = start + widthFraction;
  }
  return placed;
}

/** How late each label may begin: at its mark, and with room for all that follow. */
function latestStarts(labels: readonly AxisLabel<string>[]): number[] {
  let untilFraction = 1;
  return labels
    .toReversed()
    .map(({ text, fraction }) => {
      untilFraction = Math.min(fraction, untilFraction - labelWidthFraction(text));
      return untilFraction;
    })
    .toReversed();
}

/** Each label centred on its mark; neighbours that would meet stand side by side around the middle of their marks. */
function roomsOf(labels: readonly AxisLabel<string>[]): Room[] {
  const rooms: Room[] = [];
  for (const { text, fraction } of labels) {
    const widthFraction = labelWidthFraction(text);
    let room = roomAt(fraction - widthFraction / 2, { widthFraction, offsets: [0] });
    for (let before = rooms.at(-1); before !== undefined && meets(before, room); before = rooms.at(-1)) {
      rooms.pop();
      room = joined(before, room);
    }
    rooms.push(room);
  }
  return rooms;
}

function meets(before: Room, after: Room): boolean {
  return before.startFraction + before.widthFraction > after.startFraction;
}

function joined(before: Room, after: Room): Room {
  const offsets = [
    ...before.placeFractions.map((placeFraction) => placeFraction - before.startFraction),
    ...after.placeFractions.map(
      (placeFraction) => placeFraction - after.startFraction + before.widthFraction,
    ),
  ];
  const countBefore = before.placeFractions.length;
  const countAfter = after.placeFractions.length;
  const meanStart =
    (before.startFraction * countBefore + (after.startFraction - before.widthFraction) * countAfter) /
    (countBefore + countAfter);
  return roomAt(meanStart, { widthFraction: before.widthFraction + after.widthFraction, offsets });
}

function roomAt(
  startFraction: number,
  { widthFraction, offsets }: { readonly widthFraction: number; readonly offsets: readonly number[] },
): Room {
  return { startFraction, widthFraction, placeFractions: offsets.map((offset) => startFraction + offset) };
}
