// The feather edge of the window that stood before the first check, with every check as a mark on it.
import type { RecordWire } from '../../../server/contract/index.ts';
import { type PlacedLabel, placeLabels } from '../../charts/axisLabels.ts';
import { placeBandClocks } from '../../charts/bandLabels.ts';
import { makeRecordBand, type RecordBand as Band, type RecordMark } from '../../charts/recordBand.ts';
import { BAND_HEIGHT_PX, BAND_WIDTH_PX, type WindowTimes } from '../../charts/windowBand.ts';
import { formatClock, formatClockSpan } from '../../format/clock.ts';
import { formatCheck, formatSince } from '../../format/recordText.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

/** The band; to readers one image with a sentence. Nothing where no window stood. */
export function RecordBand({ record }: { readonly record: RecordWire }) {
  const band = makeRecordBand(record);
  if (band === null) return null;
  const checks = band.marks.filter(({ kind }) => kind !== 'alert');
  return (
    <div class="record-band" role="img" aria-label={describe(record, band.times)}>
      <div class="band-row" aria-hidden="true">
        {placeChecks(checks, record.mixedAt).map((placed) => (
          <Label key={placed.name} placed={placed} />
        ))}
      </div>
      <div class="band-plot" aria-hidden="true">
        <svg viewBox={`0 0 ${BAND_WIDTH_PX} ${BAND_HEIGHT_PX}`} preserveAspectRatio="none" focusable="false">
          <path class="band-film" d={band.band.outline} />
        </svg>
        <span class="band-metal" />
        <Tick kind="half" fraction={band.band.p50Fraction} />
        <Tick kind="end" fraction={band.band.p10Fraction} />
        <Tick kind="end" fraction={band.band.p90Fraction} />
        {band.marks.map((mark) => (
          <Tick key={`${mark.kind} ${mark.at}`} kind={mark.kind} fraction={mark.fraction} />
        ))}
      </div>
      <div class="band-row" aria-hidden="true">
        {placeClocks(band).map((placed) => (
          <Label key={placed.name} placed={placed} />
        ))}
      </div>
    </div>
  );
}

function Label({ placed }: { readonly placed: PlacedLabel<string> }) {
  const { fraction, anchorFraction, text } = placed;
  return (
    <span style={{ left: pct(fraction), transform: `translateX(-${pct(anchorFraction)})` }}>{text}</span>
  );
}

function Tick({ kind, fraction }: { readonly kind: string; readonly fraction: number }) {
  return <span class="band-tick" data-kind={kind} style={{ left: pct(fraction) }} />;
}

/** All checks where they have room, else the first and the last, else the last alone. */
function placeChecks(checks: readonly RecordMark[], mixedAt: string): PlacedLabel<string>[] {
  const { records } = $words.value;
  const labels = checks.flatMap(({ kind, at, fraction }) => {
    if (kind === 'alert') return [];
    const clock = formatSince({ at: new Date(at).toISOString(), mixedAt }, $place.value);
    return [{ name: `${kind} ${at}`, text: `${records[kind]} ${clock}`, fraction }];
  });
  const rows = [labels, [...labels.slice(0, 1), ...labels.slice(1).slice(-1)], labels.slice(-1)];
  return rows.map((row) => placeLabels(row)).find((row) => row !== null) ?? [];
}

function placeClocks({ band, times }: Band): PlacedLabel<string>[] {
  const clock = (instantAt: number): string => formatClock(instantAt, $place.value);
  const { mixedAt, p10At, p50At, p90At } = times;
  return placeBandClocks(band, {
    mixed: clock(mixedAt),
    p10: clock(p10At),
    p50: clock(p50At),
    p90: clock(p90At),
    span: formatClockSpan({ fromAt: p10At, untilAt: p90At }, $place.value),
  });
}

function describe(record: RecordWire, times: WindowTimes): string {
  const words = $words.value;
  const place = $place.value;
  const clock = (instantAt: number): string => formatClock(instantAt, place);
  return words.records.band({
    mixed: clock(times.mixedAt),
    p10: clock(times.p10At),
    p50: clock(times.p50At),
    p90: clock(times.p90At),
    checks: record.checks.map((check) => formatCheck(check, { mixedAt: record.mixedAt, words, place })),
  });
}

function pct(fraction: number): string {
  return `${(fraction * 100).toFixed(2)}%`;
}
