// What a card would mean: its times in words and as a picture, what is unusual about it, and the same as a table.
import type { CardPreviewWire } from '../../../server/contract/index.ts';
import { formatDegrees, formatPlain, formatThickness, formatWholeTemperature } from '../../format/numbers.ts';
import { numberOf } from '../../format/typedNumber.ts';
import { shownTemperature, temperatureUnit } from '../../format/units.ts';
import { $place } from '../../state/computed.ts';
import { type FormPlan, valueOf } from '../../state/setupForm.ts';
import { $words } from '../../state/sources.ts';
import { SmallSign } from '../shapes.tsx';
import { CardPicture } from './CardPicture.tsx';
import { cardWarning } from './cardWarning.ts';
import type { CardPreviewState } from './useCardPreview.ts';

/** A cool bay in the morning: what people want to know first. */
const TOLD_C = 10;

/** Everything beside the fields. */
export function CardPlausible(props: { readonly plan: FormPlan; readonly preview: CardPreviewState }) {
  const { plan, preview } = props;
  const { plausible: words } = $words.value.setup;
  const { answer, isPending } = preview;
  return (
    <section class="plausible" aria-label={words.title} aria-busy={isPending}>
      <h3>{words.title}</h3>
      {answer?.kind === 'preview' ? (
        <Meant preview={answer.preview} lowestC={numberOf(String(valueOf(plan, 'lowestC')))} />
      ) : (
        <p role="status">{whyNothing(preview)}</p>
      )}
    </section>
  );
}

function whyNothing({ answer, isPending }: CardPreviewState): string {
  const { plausible: words } = $words.value.setup;
  if (isPending) return words.pending;
  if (answer === null) return words.unfinished;
  return answer.kind === 'refused' ? words.look : words.unanswered;
}

function Meant(props: { readonly preview: CardPreviewWire; readonly lowestC: number | null }) {
  const { preview, lowestC } = props;
  const { plausible: words } = $words.value.setup;
  const place = $place.value;
  const told = preview.rows.find(({ airTemperatureC }) => airTemperatureC === TOLD_C);
  return (
    <>
      <div role="status" class="plausible-told">
        {told === undefined ? null : (
          <p class="plausible-sentence">
            {told.testMin === null
              ? words.never(formatWholeTemperature(TOLD_C, place))
              : words.sentence(whole(told.testMin), formatWholeTemperature(TOLD_C, place))}{' '}
            {preview.doublingK === null ? null : words.doubling(formatDegrees(preview.doublingK, place))}
          </p>
        )}
        {preview.warnings.map((warning) => (
          <p class="plausible-warning" key={warning.code}>
            <SmallSign name="warn" />
            <span>{cardWarning(warning, preview.doublingK)}</span>
          </p>
        ))}
      </div>
      <CardPicture rows={preview.rows} lowestC={lowestC} />
      <p class="field-hint">{words.film(formatThickness(preview.filmMm, place))}</p>
      <CardTable rows={preview.rows} />
    </>
  );
}

function CardTable({ rows }: { readonly rows: CardPreviewWire['rows'] }) {
  const { plausible: words } = $words.value.setup;
  const { units, locale } = $place.value;
  const text = (valueMin: number | null): string => (valueMin === null ? words.over : whole(valueMin));
  return (
    <details class="setup-more">
      <summary>{words.table}</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.tableAir(temperatureUnit(units))}</th>
            <th scope="col">{words.tableTest}</th>
            <th scope="col">{words.tableWorking}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ airTemperatureC, testMin, workingMin, promised }) => (
            <tr key={airTemperatureC}>
              <th scope="row">
                {formatPlain(Math.round(shownTemperature(airTemperatureC, units)), locale)}
                {promised ? '' : ` (${words.unpromised})`}
              </th>
              <td>{text(testMin)}</td>
              <td>{text(workingMin)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

function whole(valueMin: number): string {
  return formatPlain(Math.round(valueMin), $place.value.locale);
}
