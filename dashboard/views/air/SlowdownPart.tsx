// Slowdown now: how many times as long the chosen product takes in this bay's air.
import type { CostWire } from '../../../server/contract/index.ts';
import { chooseAir } from '../../actions/airActs.ts';
import { formatRatio, wholeCount } from '../../format/airText.ts';
import { formatWholeTemperature } from '../../format/numbers.ts';
import { $place } from '../../state/computed.ts';
import { $live, $words } from '../../state/sources.ts';
import { SelectField } from '../Field.tsx';

/** The figure, its sentence, and the choice of product. */
export function SlowdownPart({ cost }: { readonly cost: CostWire }) {
  const { airScreen } = $words.value;
  const place = $place.value;
  const cards = $live.value?.cards ?? [];
  const card = cards.find(({ id }) => id === cost.cardId);
  const { slowdown, expectedMin, cardMin } = cost;
  const minutes = (value: number): string => airScreen.minutes(wholeCount(value));
  return (
    <section class="air-part air-slow">
      <h2>{airScreen.slowTitle}</h2>
      {slowdown === null || expectedMin === null || cardMin === null || card === undefined ? (
        <p>{airScreen.slowNone}</p>
      ) : (
        <>
          <p class="air-figure">{airScreen.times(formatRatio(slowdown, place.locale))}</p>
          <p>
            {airScreen.slowSentence({
              card: card.name,
              minutes: minutes(expectedMin),
              cardMinutes: minutes(cardMin),
              atC: formatWholeTemperature(card.atC, place),
            })}
          </p>
        </>
      )}
      <SelectField
        label={airScreen.slowProduct}
        value={cost.cardId}
        options={cards.map(({ id, name }) => ({ value: id, name }))}
        onInput={(value) => chooseAir({ cardId: value })}
      />
    </section>
  );
}
