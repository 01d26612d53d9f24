// Counts with the form that a language's own rules ask for.

export interface Forms {
  /** A # stands for the number. */
  readonly one: string;
  readonly other: string;
}

/** Makes the function that puts a count into words of a language. */
export function makeCounted(locale: string): (count: number, forms: Forms) => string {
  // Made at the first count: a catalogue is read long before most of its words are needed.
  let held: { readonly rules: Intl.PluralRules; readonly numbers: Intl.NumberFormat } | null = null;
  return (count, forms) => {
    held ??= {
      rules: new Intl.PluralRules(locale),
      // Regions of a language part thousands in their own ways; counts here are small.
      numbers: new Intl.NumberFormat(locale, { useGrouping: false }),
    };
    return (held.rules.select(count) === 'one' ? forms.one : forms.other).replace(
      '#',
      held.numbers.format(count),
    );
  };
}
