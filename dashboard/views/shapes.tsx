// Every drawing of the program: the stages' shapes, the small signs, the mark. Drawn for it, in one line weight.
import type { ComponentChildren } from 'preact';
import type { Stage } from '../../server/contract/index.ts';

/** The shape of a stage: a drop, a closed ring, a fingertip, a block, a tick, a cross. */
export function StageShape({ stage }: { readonly stage: Stage }) {
  return <Sign class="stage-shape">{stageDrawings[stage]}</Sign>;
}

export type SignName =
  'stop' | 'warn' | 'plain' | 'bell' | 'silent' | 'person' | 'close' | 'lamp' | 'off' | 'timer';

/** A small sign beside a text; the text always says the same in words. */
export function SmallSign({ name }: { readonly name: SignName }) {
  return <Sign class={`small-sign small-sign-${name}`}>{signDrawings[name]}</Sign>;
}

/** The program's mark: the feather edge on bare metal. */
export function Mark() {
  return (
    <svg class="mark" viewBox="0 0 52 26" aria-hidden="true" focusable="false">
      <path class="mark-film" d="M1 19 C13 18.4 15 4 26 4 C37 4 39 18.4 51 19 Z" />
      <path class="mark-metal" d="M1 23 H51" />
    </svg>
  );
}

function Sign(props: { readonly class: string; readonly children: ComponentChildren }) {
  return (
    <svg class={props.class} viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      {props.children}
    </svg>
  );
}

const stageDrawings: Readonly<Record<Stage, ComponentChildren>> = {
  wet: <path class="fill" d="M12 2.5 C15 7 19 10.8 19 15 A7 7 0 0 1 5 15 C5 10.8 9 7 12 2.5 Z" />,
  kicked: <circle class="stroke thick" cx="12" cy="12" r="7.6" />,
  test: (
    <>
      <path class="fill" d="M3.5 23 V10 a8.5 8.5 0 0 1 17 0 V23 Z" />
      <path class="ridge" d="M7.2 23 V10.4 a4.8 4.8 0 0 1 9.6 0 V23 M12 23 V11" />
    </>
  ),
  sanding: (
    <>
      <path class="fill" d="M2 8.5 L6.5 4 H22 L17.5 8.5 Z" />
      <path class="fill" d="M2 10 H17 V15 H2 Z M18.6 9.6 L22 6.2 V11.2 L18.6 14.6 Z" />
      <path class="stroke" d="M2 18.5 H17.5 M6 22 h1 M11 22 h1 M16 22 h1" />
    </>
  ),
  sanded: <path class="stroke thick" d="M4.5 12.5 L10 18 L20 6.5" />,
  scrapped: <path class="stroke thick" d="M6 6 L18 18 M18 6 L6 18" />,
};

const signDrawings: Readonly<Record<SignName, ComponentChildren>> = {
  stop: (
    <>
      <path class="fill" d="M8 2.5 h8 L21.5 8 v8 L16 21.5 H8 L2.5 16 V8 Z" />
      <path class="cut-line" d="M8 12 H16" />
    </>
  ),
  warn: (
    <>
      <path class="fill" d="M12 3 L22 20.5 H2 Z" />
      <path class="cut-line" d="M12 9.5 V14 M12 17.2 V17.4" />
    </>
  ),
  plain: <circle class="fill" cx="12" cy="12" r="4" />,
  bell: (
    <path
      class="stroke"
      d="M4 10 v4 h3.6 L12.5 18 V6 L7.6 10 Z M15.6 9 a4.4 4.4 0 0 1 0 6 M18.2 6.4 a8 8 0 0 1 0 11.2"
    />
  ),
  silent: <path class="stroke" d="M4 10 v4 h3.6 L12.5 18 V6 L7.6 10 Z M16 9.5 L21 14.5 M21 9.5 L16 14.5" />,
  person: (
    <path
      class="stroke"
      d="M12 12 a4 4 0 1 0 0 -8 a4 4 0 0 0 0 8 Z M4.5 20.5 C5 16 8 14.6 12 14.6 s7 1.4 7.5 5.9"
    />
  ),
  close: <path class="stroke" d="M6 6 L18 18 M18 6 L6 18" />,
  lamp: (
    <path class="stroke" d="M5 10 C5 5.5 8.5 3 12 3 s7 2.5 7 7 Z M8 14 L6.5 20 M12 14 V20 M16 14 L17.5 20" />
  ),
  timer: (
    <path
      class="stroke"
      d="M12 6 a7.6 7.6 0 1 0 .01 0 Z M12 9.4 V13.6 L14.8 15.6 M9.6 2.6 H14.4 M12 2.8 V6"
    />
  ),
  off: (
    <path
      class="stroke"
      d="M3 9 C8 4.5 16 4.5 21 9 M6.5 13 C9.5 10.3 14.5 10.3 17.5 13 M12 18 V18.2 M4 21 L20 3"
    />
  ),
};
