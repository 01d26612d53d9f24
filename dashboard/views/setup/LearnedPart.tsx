// What the shop has learned of each product, in words; how its promises were kept stands in Records.
import { useEffect, useState } from 'preact/hooks';
import type { CardWire } from '../../../server/contract/index.ts';
import { listLearned } from '../../actions/deviceActs.ts';
import { formatDegrees, formatPct, formatPlain, formatWholeTemperature } from '../../format/numbers.ts';
import { $place } from '../../state/computed.ts';
import { $words } from '../../state/sources.ts';

/** Products; read once when the screen opens. */
export function LearnedPart() {
  const { setup } = $words.value;
  const [found, setFound] = useState<readonly CardWire[] | 'loading' | 'failed'>('loading');
  useEffect(() => {
    void listLearned().then((cards) => setFound(cards ?? 'failed'));
  }, []);
  if (found === 'loading') return <p role="status">{setup.loading}</p>;
  if (found === 'failed') return <p role="status">{setup.failed}</p>;
  return (
    <section class="setup-part">
      <h2>{setup.products}</h2>
      <p>{setup.productsIntro}</p>
      <ul class="sensors">
        {found.map((card) => (
          <ProductLine key={card.id} card={card} />
        ))}
      </ul>
      <a class="link" href="/records#estimates">
        {setup.promises}
      </a>
    </section>
  );
}

function ProductLine({ card: { name, sandMin, atC, learned } }: { readonly card: CardWire }) {
  const { setup } = $words.value;
  const place = $place.value;
  const { locale } = place;
  return (
    <li class="sensor product" data-known={true}>
      <b>{name}</b>
      <span>{setup.cardSays(formatPlain(sandMin, locale), formatWholeTemperature(atC, place))}</span>
      {learned === null ? (
        <span class="sensor-seen">{setup.learnedNothing}</span>
      ) : (
        <span>
          {[
            learned.sandMin === null
              ? setup.learnedNever
              : setup.learned(learned.batchCount, formatPlain(tenth(learned.sandMin), locale)),
            ...(learned.doublingK === null ? [] : [setup.doubling(formatDegrees(learned.doublingK, place))]),
            setup.scatter(formatPct(100 * learned.scatterSd, locale)),
          ].join(' ')}
        </span>
      )}
    </li>
  );
}

function tenth(valueMin: number): number {
  return Math.round(10 * valueMin) / 10;
}
