// Counts with the form that a language's own rules ask for.

export interface Forms {
  /** A # stands for the number. */
  readonly one: string;
  readonly other: string;
}

/** Makes the function that puts a count into words of a language. */
export function makeCounted(locale: string): (count: number, forms: Forms) => string {
  const rules = new Intl.PluralRules(locale);
  // Regions of a language part thousands in their own ways; counts here are small.
  const numbers = new Intl.NumberFormat(locale, { useGrouping: false });
  return (count, forms) =>
    (rules.select(count) === 'one' ? forms.one : forms.other).replace('#', numbers.format(count));
}
