// Products: what their tins say, what the shop has learned of them since, and the form for each.
import type { CardWire } from '../../../server/contract/index.ts';
import { formatDegrees, formatPct, formatPlain, formatWholeTemperature } from '../../format/numbers.ts';
import { $place } from '../../state/computed.ts';
import { $cardSetups, $learned } from '../../state/setup.ts';
import { planCard } from '../../state/setupPlans.ts';
import { $words } from '../../state/sources.ts';
import { CardForm } from './CardForm.tsx';
import { EntryEditor } from './EntryEditor.tsx';

/** The list of products and the form for a new one. */
export function ProductsPart() {
  const { setup } = $words.value;
  const { products: words } = setup;
  const found = $learned.value;
  if (found === 'loading') return <p role="status">{setup.loading}</p>;
  if (found === 'failed') return <p role="status">{setup.failed}</p>;
  const takenIds = found.map(({ id }) => id);
  const plan = planCard(null, takenIds);
  return (
    <>
      <p>{found.length === 0 ? words.none : words.intro}</p>
      {found.length === 0 ? null : (
        <ul class="entries">
          {found.map((card) => (
            <ProductEntry key={card.id} card={card} takenIds={takenIds} />
          ))}
        </ul>
      )}
      <EntryEditor plan={plan} text={words.add}>
        <CardForm plan={plan} label={words.add} isNew />
      </EntryEditor>
      <a class="link" href="/records#estimates">
        {words.promises}
      </a>
    </>
  );
}

function ProductEntry({ card, takenIds }: { readonly card: CardWire; readonly takenIds: readonly string[] }) {
  const { products: words, form } = $words.value.setup;
  const place = $place.value;
  const setup = $cardSetups.value.get(card.id);
  const { name, sandMin, atC } = card;
  return (
    <li class="entry product">
      <b class="entry-name">{name}</b>
      <span class="entry-fact">
        <span>{words.cardSays(formatPlain(sandMin, place.locale), formatWholeTemperature(atC, place))}</span>
        <span class="entry-seen">{learnedText(card)}</span>
      </span>
      {setup === undefined ? null : (
        <div class="entry-acts">
          <EntryEditor plan={planCard(setup, takenIds)} text={form.change} name={form.changeOf(name)}>
            <CardForm plan={planCard(setup, takenIds)} label={form.changeOf(name)} />
          </EntryEditor>
        </div>
      )}
    </li>
  );
}

function learnedText({ learned }: CardWire): string {
  const { products: words } = $words.value.setup;
  const place = $place.value;
  const { locale } = place;
  if (learned === null) return words.learnedNothing;
  return [
    learned.sandMin === null
      ? words.learnedNever
      : words.learned(learned.batchCount, formatPlain(tenth(learned.sandMin), locale)),
    ...(learned.doublingK === null ? [] : [words.doubling(formatDegrees(learned.doublingK, place))]),
    words.scatter(formatPct(100 * learned.scatterSd, locale)),
  ].join(' ');
}

function tenth(valueMin: number): number {
  return Math.round(10 * valueMin) / 10;
}
