// An empty Bench says what to do: a bare panel, waiting for its filler.
import { $words } from '../../state/sources.ts';

/** What stands where slips would stand. */
export function EmptyBench({ isFiltered }: { readonly isFiltered: boolean }) {
  const { bench } = $words.value;
  return (
    <div class="blank">
      <svg class="blank-drawing" viewBox="0 0 240 96" aria-hidden="true" focusable="false">
        <path class="drawing-metal" d="M6 78 H86 C100 78 104 90 120 90 C136 90 140 78 154 78 H234" />
        <path class="drawing-film" d="M58 77 C88 75 92 40 120 40 C148 40 152 75 182 77" />
        <path class="drawing-tool" d="M150 8 L196 8 L178 44 L160 44 Z" />
        <path class="drawing-tool-edge" d="M158 44 H180" />
      </svg>
      <p class="blank-title">{isFiltered ? bench.emptyMine : bench.empty}</p>
      <p>{bench.emptyHint}</p>
    </div>
  );
}
