// The small marks on Floor's axis: what a test by hand showed, and the flag of a promise. Drawn for this program.

export interface CheckMarkProps {
  readonly outcome: 'gums' | 'powders';
  readonly left?: string;
}

/** Gums: a drop that pulls a string; powders: dust that falls off. */
export function CheckMark({ outcome, left }: CheckMarkProps) {
  return (
    <svg
      class="check-mark"
      data-outcome={outcome}
      viewBox="0 0 24 24"
      aria-hidden="true"
      focusable="false"
      style={left === undefined ? undefined : { left }}
    >
      <circle class="check-ground" cx="12" cy="12" r="11" />
      {outcome === 'gums' ? (
        <path class="check-line" d="M5.5 9 C8 6.5 10 11.5 12 9 S16 6.5 18.5 9 M12 10 V17" />
      ) : (
        <path class="check-line" d="M6 10.5 L10 14 L18 6 M7 18.5 h.2 M12 18 h.2 M17 18.5 h.2" />
      )}
    </svg>
  );
}

export interface PromiseFlagProps {
  readonly clock: string;
  readonly isMissed: boolean;
  readonly left?: string;
  /** Near the end of the axis the pennant flies back, so that its time is not cut off. */
  readonly fliesBack?: boolean;
}

/** A pole with a pennant that tells the promised time. */
export function PromiseFlag({ clock, isMissed, left, fliesBack = false }: PromiseFlagProps) {
  return (
    <span
      class="flag"
      data-missed={isMissed}
      data-back={fliesBack}
      style={left === undefined ? undefined : { left }}
    >
      <span class="flag-cloth">{clock}</span>
    </span>
  );
}
