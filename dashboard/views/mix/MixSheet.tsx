// Mix: product, panel, thickness, start. What was used last is already chosen; the rest has defaults under Details.
import { useState } from 'preact/hooks';
import { startBatch } from '../../actions/startBatch.ts';
import { $place } from '../../state/computed.ts';
import { $device } from '../../state/device.ts';
import { makeMixDraft, type MixDraft } from '../../state/mixDraft.ts';
import { rejectionText } from '../../state/rejection.ts';
import { $live, $troubles, $words, type OpenDialog } from '../../state/sources.ts';
import { Sheet } from '../Sheet.tsx';
import { AgainSummary } from './AgainSummary.tsx';
import { Cautions } from './Cautions.tsx';
import { MixAmount } from './MixAmount.tsx';
import { MixChoices } from './MixChoices.tsx';
import { MixDetails } from './MixDetails.tsx';
import { hasField, type MixPartProps } from './mixPart.ts';
import './mix.css';

type MixDialog = Extract<OpenDialog, { kind: 'mix' }>;

/** The Mix dialog; "again" starts as a summary that can be opened for changes. */
export function MixSheet({ preset, variant }: Pick<MixDialog, 'preset' | 'variant'>) {
  const [draft, setDraft] = useState(() => draftFrom(preset));
  const [isOpen, setIsOpen] = useState(variant !== 'again');
  const [isSending, setIsSending] = useState(false);
  const { mix } = $words.value;
  const titles = { full: mix.title, again: mix.againTitle, layer: mix.layerTitle };
  const part: MixPartProps = {
    draft,
    onChange: (changes) => setDraft((held) => ({ ...held, ...changes })),
    errorOf: (path) => errorText(path),
  };
  const start = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (isSending) return;
    setIsSending(true);
    await startBatch(draft);
    setIsSending(false);
    setIsOpen(true);
  };
  return (
    <Sheet title={titles[variant]} isWide foot={<StartFoot isSending={isSending} />}>
      <form id="mix-form" noValidate onSubmit={(event) => void start(event)}>
        {isOpen ? (
          <>
            <MixChoices {...part} isLayer={variant === 'layer'} />
            <MixAmount {...part} />
            <MixDetails {...part} />
          </>
        ) : (
          <AgainSummary draft={draft} onOpen={() => setIsOpen(true)} />
        )}
        <Cautions />
      </form>
    </Sheet>
  );
}

function StartFoot({ isSending }: { readonly isSending: boolean }) {
  const words = $words.value;
  const { mix, caution, act } = words;
  const trouble = $troubles.value['mix'];
  return (
    <>
      <div role="status">
        {trouble === undefined ? null : <p class="field-error">{trouble.text}</p>}
        {trouble?.errors
          .filter(({ path }) => !hasField(path))
          .map(({ path, reason, allowed }) => (
            <p class="field-error" key={path}>
              {path}: {rejectionText({ path, reason, allowed }, { words, place: $place.value })}
            </p>
          ))}
      </div>
      <button
        type="submit"
        form="mix-form"
        class="first huge"
        aria-disabled={isSending}
        aria-label={mix.start}
      >
        {isSending ? act.sending : mix.start}
      </button>
      <p class="foot-note">
        {caution.short} {caution.acknowledge}
      </p>
    </>
  );
}

function draftFrom(preset: Partial<MixDraft>): MixDraft {
  const live = $live.peek();
  const { person, lastMix } = $device.peek();
  return makeMixDraft({ cards: live?.cards ?? [], bays: live?.bays ?? [], person, last: lastMix }, preset);
}

function errorText(path: string): string | null {
  const error = $troubles.value['mix']?.errors.find((entry) => entry.path === path);
  return error === undefined ? null : rejectionText(error, { words: $words.value, place: $place.value });
}
