// What a component reads off the clock: it is drawn again when that changes, not whenever the clock ticks.
import { computed, type ReadonlySignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { $nowAt } from '../state/sources.ts';

/** What is read of a subject at the shop's time now, or by a slower clock; an equal value stays the same value. */
export function useClocked<Subject, Value>(
  subject: Subject,
  read: (subject: Subject, nowAt: number) => Value,
  $clock: ReadonlySignal<number> = $nowAt,
): Value {
  const $read = useMemo(() => {
    let held: { readonly value: Value; readonly text: string } | null = null;
    return computed(() => {
      const value = read(subject, $clock.value);
      const text = JSON.stringify(value);
      if (held?.text !== text) held = { value, text };
      return held.value;
    });
  }, [subject, read, $clock]);
  return $read.value;
}
