// Setup: everything a shop sets by hand, on one page with an index of its sections.
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import type { SettingsWire } from '../../../server/contract/index.ts';
import { keepSetup } from '../../actions/setupActs.ts';
import { $settings } from '../../state/setup.ts';
import { $words } from '../../state/sources.ts';
import { AccessPart } from './AccessPart.tsx';
import { AlertsPart } from './AlertsPart.tsx';
import { BaysPart } from './BaysPart.tsx';
import { BeadPart } from './BeadPart.tsx';
import { bringWords } from './bringWords.ts';
import { ChangesPart } from './ChangesPart.tsx';
import { CopyPart } from './CopyPart.tsx';
import { DevicePart } from './DevicePart.tsx';
import { NotifyPart } from './NotifyPart.tsx';
import { PeoplePart } from './PeoplePart.tsx';
import { ProductsPart } from './ProductsPart.tsx';
import { SensorsPart } from './SensorsPart.tsx';
import { ShopPart } from './ShopPart.tsx';
import './setup.css';
import './setupForm.css';
import './setupCard.css';
import './setupNotify.css';

bringWords();

/** The Setup screen. */
export function SetupScreen() {
  const { screen } = $words.value;
  useEffect(keepSetup, []);
  useEffect(() => {
    // The address named a section before the screen was there.
    const id = globalThis.location.hash.slice(1);
    if (id !== '') document.getElementById(id)?.scrollIntoView();
  }, []);
  return (
    <div class="setup">
      <h1>{screen.setup}</h1>
      <Index />
      <div class="setup-column">
        <FirstColumn />
      </div>
      <div class="setup-column">
        <SecondColumn />
      </div>
    </div>
  );
}

/** Who and what there is. */
function FirstColumn() {
  return (
    <>
      <Section part="shop">
        <Settled Part={ShopPart} />
      </Section>
      <Section part="people">
        <Settled Part={PeoplePart} />
      </Section>
      <Section part="bays">
        <Settled Part={BaysPart} />
      </Section>
      <Section part="sensors">
        <SensorsPart />
      </Section>
      <Section part="device">
        <DevicePart />
      </Section>
      <Section part="access">
        <AccessPart />
      </Section>
    </>
  );
}

/** What holds, who is told, and what is kept. */
function SecondColumn() {
  return (
    <>
      <Section part="products">
        <ProductsPart />
      </Section>
      <Section part="alerts">
        <Settled Part={AlertsPart} />
      </Section>
      <Section part="notify">
        <Settled Part={NotifyPart} />
      </Section>
      <Section part="bead">
        <Settled Part={BeadPart} />
      </Section>
      <Section part="copy">
        <CopyPart />
      </Section>
      <Section part="changes">
        <Settled Part={ChangesPart} />
      </Section>
    </>
  );
}

type SectionName = (typeof SECTIONS)[number];

function Index() {
  const { setup } = $words.value;
  return (
    <nav class="setup-index" aria-label={setup.index}>
      <ul>
        {SECTIONS.map((name) => (
          <li key={name}>
            <a href={`#setup-${name}`}>{setup[name].title}</a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

function Section(props: { readonly part: SectionName; readonly children: ComponentChildren }) {
  const { part, children } = props;
  const { setup } = $words.value;
  return (
    <section class="setup-part" id={`setup-${part}`} aria-labelledby={`setup-${part}-title`}>
      <h2 id={`setup-${part}-title`}>{setup[part].title}</h2>
      {children}
    </section>
  );
}

/** What rests on the settings, once they were read. */
function Settled({
  Part,
}: {
  readonly Part: (props: { readonly settings: SettingsWire }) => ComponentChildren;
}) {
  const { setup } = $words.value;
  const settings = $settings.value;
  if (settings === 'loading') return <p role="status">{setup.loading}</p>;
  if (settings === 'failed') return <p role="status">{setup.failed}</p>;
  return <Part settings={settings} />;
}

const SECTIONS = [
  'shop',
  'people',
  'bays',
  'sensors',
  'device',
  'access',
  'products',
  'alerts',
  'notify',
  'bead',
  'copy',
  'changes',
] as const;
