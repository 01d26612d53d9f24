// The copies that the shop keeps by itself: when the last one was good, when the next one comes, what went wrong, and each as
// a download.
import { useEffect } from 'preact/hooks';
import type { CopiesWire, KeptCopyWire } from '../../../server/contract/index.ts';
import { keepCopiesShown, makeCopyNow } from '../../actions/copyActs.ts';
import { formatDayClock } from '../../format/clock.ts';
import { describeSchedule, whyNoCopy } from '../../format/copyText.ts';
import { formatFileSize } from '../../format/setupText.ts';
import { $place } from '../../state/computed.ts';
import { $copyAsk, $keptCopies } from '../../state/copies.ts';
import { $words } from '../../state/sources.ts';
import { SmallSign } from '../shapes.tsx';
import { useClocked } from '../useClocked.ts';

/** The part below the download. */
export function KeptCopies() {
  const { setup, keptCopies: words } = $words.value;
  useEffect(keepCopiesShown, []);
  const held = $keptCopies.value;
  if (held === 'loading') return <p role="status">{setup.loading}</p>;
  if (held === 'failed') return <p role="status">{setup.failed}</p>;
  return (
    <>
      <h3>{words.title}</h3>
      <p>{describeSchedule(held, $words.value)}</p>
      <Facts copies={held} />
      <Failure copies={held} />
      <MakeNow copies={held} />
      <CopyList copies={held.copies} />
    </>
  );
}

function Facts({ copies }: { readonly copies: CopiesWire }) {
  const { keptCopies: words } = $words.value;
  const isSoon = useClocked(copies, ({ nextAt }, nowAt) => Date.parse(nextAt) <= nowAt);
  const [last] = copies.copies;
  return (
    <dl class="copy-facts">
      <dt>{words.last}</dt>
      <dd>{last === undefined ? words.none : lineOf(last)}</dd>
      <dt>{words.next}</dt>
      <dd>{isSoon ? words.soon : formatDayClock(Date.parse(copies.nextAt), $place.value)}</dd>
    </dl>
  );
}

function Failure({ copies: { failure } }: { readonly copies: CopiesWire }) {
  const { keptCopies: words } = $words.value;
  if (failure === null) return null;
  const when = formatDayClock(Date.parse(failure.at), $place.value);
  return (
    <div class="setup-said">
      <p class="setup-said-line" data-tone="warn">
        <SmallSign name="warn" />
        <span>{words.failed({ when, why: whyNoCopy(failure.code, $words.value) })}</span>
      </p>
    </div>
  );
}

function MakeNow({ copies }: { readonly copies: CopiesWire }) {
  const { keptCopies: words } = $words.value;
  const isMaking = copies.making || $copyAsk.value.kind === 'asked';
  return (
    <>
      <div class="setup-acts">
        <button type="button" class="first" aria-disabled={isMaking} onClick={makeCopyNow}>
          {words.make}
        </button>
      </div>
      <div class="setup-said" role="status">
        <Said isMaking={isMaking} />
      </div>
    </>
  );
}

function Said({ isMaking }: { readonly isMaking: boolean }) {
  const { keptCopies: words, setup } = $words.value;
  const ask = $copyAsk.value;
  const isWrong = !isMaking && (ask.kind === 'busy' || ask.kind === 'noAnswer');
  const said = isMaking
    ? words.making
    : ask.kind === 'kept'
      ? words.kept(formatDayClock(Date.parse(ask.madeAt), $place.value))
      : ask.kind === 'busy'
        ? setup.copy.busy
        : ask.kind === 'noAnswer'
          ? words.noAnswer
          : null;
  if (said === null) return null;
  return (
    <p class="setup-said-line" data-tone={isWrong ? 'warn' : 'plain'}>
      <SmallSign name={isWrong ? 'warn' : 'plain'} />
      <span>{said}</span>
    </p>
  );
}

function CopyList({ copies }: { readonly copies: readonly KeptCopyWire[] }) {
  const { keptCopies: words } = $words.value;
  if (copies.length === 0) return null;
  return (
    <details class="setup-more">
      <summary>{words.list(copies.length)}</summary>
      <ul class="setup-lines copy-lines">
        {copies.map((copy) => (
          <li key={copy.name}>
            <span>{lineOf(copy)}</span>
            <a
              class="link"
              href={`/api/v1/copies/${copy.name}`}
              download={copy.name}
              aria-label={words.downloadOf(formatDayClock(Date.parse(copy.madeAt), $place.value))}
            >
              {words.download}
            </a>
          </li>
        ))}
      </ul>
      <p class="field-hint">{words.restore}</p>
    </details>
  );
}

function lineOf({ madeAt, sizeBytes }: KeptCopyWire): string {
  const place = $place.value;
  const when = formatDayClock(Date.parse(madeAt), place);
  return $words.value.keptCopies.line({ when, size: formatFileSize(sizeBytes, place.locale) });
}
