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

/** The Setup screen. */
export function SetupScreen() {
  const { screen } = $words.value;
  useEffect(keepSetup, []);
  useEffect(() => {
    // The address named a section before the screen was there.
    const id = globalThis.location.hash.slice(1);
    if (id !== '') document.getElementById(id)?.scrollIntoView();
  }, []);
  const settingsPart = (draw: (settings: SettingsWire) => ComponentChildren) => <Settled draw={draw} />;
  return (
    <div class="setup">
      <h1>{screen.setup}</h1>
      <Index />
      <div class="setup-column">
        <Section part="shop">
          {settingsPart((settings) => (
            <ShopPart settings={settings} />
          ))}
        </Section>
        <Section part="people">
          {settingsPart((settings) => (
            <PeoplePart settings={settings} />
          ))}
        </Section>
        <Section part="bays">
          {settingsPart((settings) => (
            <BaysPart settings={settings} />
          ))}
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
      </div>
      <div class="setup-column">
        <Section part="products">
          <ProductsPart />
        </Section>
        <Section part="alerts">
          {settingsPart((settings) => (
            <AlertsPart settings={settings} />
          ))}
        </Section>
        <Section part="notify">
          {settingsPart((settings) => (
            <NotifyPart settings={settings} />
          ))}
        </Section>
        <Section part="bead">
          {settingsPart((settings) => (
            <BeadPart settings={settings} />
          ))}
        </Section>
        <Section part="copy">
          <CopyPart />
        </Section>
        <Section part="changes">
          {settingsPart((settings) => (
            <ChangesPart settings={settings} />
          ))}
        </Section>
      </div>
    </div>
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
function Settled({ draw }: { readonly draw: (settings: SettingsWire) => ComponentChildren }) {
  const { setup } = $words.value;
  const settings = $settings.value;
  if (settings === 'loading') return <p role="status">{setup.loading}</p>;
  if (settings === 'failed') return <p role="status">{setup.failed}</p>;
  return <>{draw(settings)}</>;
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
