// How good the estimates were: stated probability against how often it powdered, the promise, the errors beside rules of thumb.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { ReliabilityWire } from '../../../server/contract/index.ts';
import { listPromises } from '../../actions/recordActs.ts';
import { formatPct, formatPlain } from '../../format/numbers.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';
import { ReliabilityPicture } from './ReliabilityPicture.tsx';
import './estimates.css';

/** The honest figures of the shop; read once when the screen opens. */
export function Estimates() {
  const { estimates, failed, loading } = $words.value.records;
  const [found, setFound] = useState<ReliabilityWire | 'loading' | 'failed'>('loading');
  useEffect(() => {
    void listPromises().then((answer) => setFound(answer.kind === 'read' ? answer.body : 'failed'));
  }, []);
  const section = useRef<HTMLElement>(null);
  // Setup leads here; what it names comes only after the page.
  useEffect(() => {
    if (globalThis.location.hash === '#estimates') section.current?.scrollIntoView();
  }, [found]);
  return (
    <section class="estimates" id="estimates" ref={section} aria-labelledby="estimates-title">
      <h2 id="estimates-title">{estimates.title}</h2>
      {typeof found === 'string' ? (
        <p role="status">{found === 'loading' ? loading : failed}</p>
      ) : found.batchCount === 0 ? (
        <p>{estimates.none}</p>
      ) : (
        <Figures reliability={found} />
      )}
    </section>
  );
}

function Figures({ reliability }: { readonly reliability: ReliabilityWire }) {
  const { estimates } = $words.value.records;
  return (
    <>
      <p>{estimates.intro}</p>
      <ReliabilityPicture bins={reliability.bins} />
      <Promised promise={reliability.promise} />
      <Errors brier={reliability.brier} />
      <details class="estimates-table">
        <summary>{estimates.tableOpen}</summary>
        <BinTable bins={reliability.bins} />
      </details>
    </>
  );
}

function Promised({ promise }: { readonly promise: ReliabilityWire['promise'] }) {
  const { estimates } = $words.value.records;
  const { powderedCount, count, lowProbability, highProbability, probability } = promise;
  if (count === 0) return <p>{estimates.promiseNone}</p>;
  return (
    <p class="promise">
      <b>{estimates.promise(powderedCount, count)}</b>:{' '}
      {estimates.promiseShare({
        share: pct(powderedCount / count),
        low: pct(lowProbability),
        high: pct(highProbability),
        asked: pct(probability),
      })}
    </p>
  );
}

/** The longest bar is the worst that is worth showing: always saying half. */
const WORST_VALUE = 0.5;
/** What always saying half comes to. */
const HALF_SCORE = 0.25;

function Errors({ brier }: { readonly brier: ReliabilityWire['brier'] }) {
  const { estimates } = $words.value.records;
  const rows = [
    [estimates.windows, brier.windowsScore, 'own'],
    [estimates.timer, brier.fixedTimerScore, 'other'],
    [estimates.doubling, brier.doublingRuleScore, 'other'],
  ] as const;
  return (
    <div class="errors">
      <h3>{estimates.errors}</h3>
      <dl>
        {rows.map(([name, score, kind]) => (
          <div key={name} data-kind={kind}>
            <dt>{name}</dt>
            <dd>
              <span
                class="error-bar"
                style={{ width: `${Math.min(1, (score ?? 0) / WORST_VALUE) * 100}%` }}
                aria-hidden="true"
              />
              <b>{score === null ? estimates.unknown : hundredth(score)}</b>
            </dd>
          </div>
        ))}
      </dl>
      <p class="record-small">{estimates.errorsHint(hundredth(HALF_SCORE))}</p>
    </div>
  );
}

function BinTable({ bins }: { readonly bins: ReliabilityWire['bins'] }) {
  const { column, ofCount } = $words.value.records.estimates;
  return (
    <table>
      <thead>
        <tr>
          {[column.said, column.mean, column.powdered, column.bounds].map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {bins.map((bin) => (
          <tr key={bin.fromProbability}>
            <th scope="row">
              {pct(bin.fromProbability)}–{pct(bin.toProbability)}
            </th>
            <td>{bin.meanProbability === null ? '–' : pct(bin.meanProbability)}</td>
            <td>{bin.count === 0 ? '–' : ofCount(bin.powderedCount, bin.count)}</td>
            <td>{bin.count === 0 ? '–' : `${pct(bin.lowProbability)}–${pct(bin.highProbability)}`}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function pct(probability: number): string {
  return formatPct(100 * probability, $place.value.locale);
}

function hundredth(scoreValue: number): string {
  return formatPlain(Math.round(100 * scoreValue) / 100, $place.value.locale);
}
