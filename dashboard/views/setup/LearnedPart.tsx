// What the shop has learned of each product, in words, and how its promises were kept.
import { useEffect, useState } from 'preact/hooks';
import type { CardWire, ReliabilityWire } from '../../../server/contract/index.ts';
import { listLearned } from '../../actions/deviceActs.ts';
import { formatDegrees, formatPct, formatPlain, formatWholeTemperature } from '../../format/numbers.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

type Found = NonNullable<Awaited<ReturnType<typeof listLearned>>>;

/** Products and promises; read once when the screen opens. */
export function LearnedPart() {
  const { setup } = $words.value;
  const [found, setFound] = useState<Found | 'loading' | 'failed'>('loading');
  useEffect(() => {
    void listLearned().then((learned) => setFound(learned ?? 'failed'));
  }, []);
  if (found === 'loading') return <p role="status">{setup.loading}</p>;
  if (found === 'failed') return <p role="status">{setup.failed}</p>;
  return (
    <>
      <section class="setup-part">
        <h2>{setup.products}</h2>
        <p>{setup.productsIntro}</p>
        <ul class="sensors">
          {found.cards.map((card) => (
            <ProductLine key={card.id} card={card} />
          ))}
        </ul>
      </section>
      <section class="setup-part">
        <h2>{setup.promises}</h2>
        <Promises reliability={found.reliability} />
      </section>
    </>
  );
}

function ProductLine({ card: { name, sandMin, atC, learned } }: { readonly card: CardWire }) {
  const { setup } = $words.value;
  const { locale } = $place.value;
  return (
    <li class="sensor product" data-known={true}>
      <b>{name}</b>
      <span>{setup.cardSays(formatPlain(sandMin, locale), formatWholeTemperature(atC, locale))}</span>
      {learned === null ? (
        <span class="sensor-seen">{setup.learnedNothing}</span>
      ) : (
        <span>
          {[
            learned.sandMin === null
              ? setup.learnedNever
              : setup.learned(learned.batchCount, formatPlain(tenth(learned.sandMin), locale)),
            ...(learned.doublingK === null ? [] : [setup.doubling(formatDegrees(learned.doublingK, locale))]),
            setup.scatter(formatPct(100 * learned.scatterSd, locale)),
          ].join(' ')}
        </span>
      )}
    </li>
  );
}

function Promises({ reliability: { promise, brier } }: { readonly reliability: ReliabilityWire }) {
  const { setup } = $words.value;
  const { locale } = $place.value;
  const pct = (probability: number): string => formatPct(100 * probability, locale);
  const score = (value: number | null): string =>
    value === null ? '–' : formatPlain(Math.round(100 * value) / 100, locale);
  if (promise.count === 0) return <p>{setup.promisesNone}</p>;
  const { powderedCount, count, lowProbability, highProbability, probability } = promise;
  return (
    <>
      <p>
        <b>{setup.promise(powderedCount, count)}</b>:{' '}
        {setup.promiseShare(
          pct(powderedCount / count),
          pct(lowProbability),
          pct(highProbability),
          pct(probability),
        )}
      </p>
      <p class="sensor-seen">
        {setup.brier(score(brier.windows), score(brier.fixedTimer), score(brier.doublingRule))}
      </p>
    </>
  );
}

function tenth(valueMin: number): number {
  return Math.round(10 * valueMin) / 10;
}
