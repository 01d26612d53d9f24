// What of the records is asked for: days, product, bay, person, any text. Days and choices count at once, texts with Find.
import { useEffect, useState } from 'preact/hooks';
import { setRecordsFilter } from '../../actions/recordActs.ts';
import { $place } from '../../state/computed.ts';
import { $recordsFilter, countAsked, isSpanInOrder } from '../../state/records.ts';
import { allowedText } from '../../state/rejection.ts';
import { type FieldError, $live, $words } from '../../state/sources.ts';
import { FieldFrame, SelectField, TextField } from '../Field.tsx';

/** The filter; folded up on a phone. */
export function RecordFilters({ refused }: { readonly refused: FieldError | null }) {
  const { filters } = $words.value.records;
  const filter = $recordsFilter.value;
  const [isOpen] = useState(() => globalThis.matchMedia('(min-width: 40rem)').matches);
  const count = countAsked(filter);
  return (
    <details class="records-filter" open={isOpen}>
      <summary>{count === 0 ? filters.title : filters.active(count)}</summary>
      <div class="filter-fields">
        <DayField
          label={filters.from}
          value={filter.from}
          error={isSpanInOrder(filter) ? null : filters.wrongSpan}
          onInput={(from) => setRecordsFilter({ from })}
        />
        <DayField
          label={filters.to}
          value={filter.to}
          error={null}
          onInput={(to) => setRecordsFilter({ to })}
        />
        <Choices />
        <Texts refused={refused} />
      </div>
    </details>
  );
}

function Choices() {
  const { filters } = $words.value.records;
  const { cardId, bayId } = $recordsFilter.value;
  const live = $live.value;
  const any = { value: '', name: filters.any };
  const optionsOf = (things: readonly { readonly id: string; readonly name: string }[] | undefined) => [
    any,
    ...(things ?? []).map(({ id, name }) => ({ value: id, name })),
  ];
  return (
    <>
      <SelectField
        label={filters.product}
        value={cardId}
        options={optionsOf(live?.cards)}
        onInput={(value) => setRecordsFilter({ cardId: value })}
      />
      <SelectField
        label={filters.bay}
        value={bayId}
        options={optionsOf(live?.bays)}
        onInput={(value) => setRecordsFilter({ bayId: value })}
      />
    </>
  );
}

function Texts({ refused }: { readonly refused: FieldError | null }) {
  const { filters } = $words.value.records;
  const { by, text } = $recordsFilter.value;
  const [typed, setTyped] = useState({ by, text });
  // What was cleared elsewhere is cleared here.
  useEffect(() => setTyped({ by, text }), [by, text]);
  return (
    <form
      class="filter-texts"
      onSubmit={(event) => {
        event.preventDefault();
        setRecordsFilter(typed);
      }}
    >
      <TextField
        label={filters.by}
        value={typed.by}
        suggestions={($live.value?.people ?? []).map(({ initials }) => initials)}
        onInput={(value) => setTyped({ ...typed, by: value })}
      />
      <TextField
        label={filters.text}
        value={typed.text}
        error={
          refused === null
            ? null
            : filters.wrongText(allowedText(refused, { words: $words.value, place: $place.value }))
        }
        onInput={(value) => setTyped({ ...typed, text: value })}
      />
      <button type="submit" class="first">
        {filters.find}
      </button>
    </form>
  );
}

interface DayFieldProps {
  readonly label: string;
  readonly value: string;
  readonly error: string | null;
  readonly onInput: (value: string) => void;
}

function DayField({ label, value, error, onInput }: DayFieldProps) {
  return (
    <FieldFrame label={label} error={error}>
      {(ties) => (
        <input
          {...ties}
          type="date"
          value={value}
          max="9999-12-31"
          onChange={(event) => onInput(event.currentTarget.value)}
        />
      )}
    </FieldFrame>
  );
}
