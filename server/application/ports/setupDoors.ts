// The doors of Setup as adapters see them: settings, cards, sensors, a copy of the store.
import type {
  CardPreviewWire,
  CardSetupWire,
  CopiesWire,
  KeptCopyWire,
  PreviewCard,
  PutCard,
  PutSensor,
  PutSettings,
  Rejection,
  SensorWire,
  SettingsTouchWire,
  SettingsWire,
} from '../../contract/index.ts';
import type { NotCopied, StoreCopy } from './storeCopier.ts';

/** What a person wants changed, with the key under which the answer is kept. */
export interface SetupAsk<Body> {
  readonly key: string;
  readonly body: Body;
}

/** What comes of a change in Setup. */
export type SetupAnswer<Body> =
  | { readonly kind: 'done'; readonly body: Body; readonly isNew: boolean }
  | { readonly kind: 'rejected'; readonly rejections: readonly Rejection[] }
  /** Others changed it since the version that was shown. */
  | { readonly kind: 'stale'; readonly version: number; readonly changes: readonly SettingsTouchWire[] }
  | { readonly kind: 'unknown' }
  | { readonly kind: 'key-reused' };

export type CardPreview =
  | { readonly kind: 'done'; readonly preview: CardPreviewWire }
  | { readonly kind: 'rejected'; readonly rejections: readonly Rejection[] };

/** What came of the wish for a copy that is kept beside the store. */
export type CopyAnswer =
  | { readonly kind: 'kept'; readonly copy: KeptCopyWire; readonly isRepeat: boolean }
  | NotCopied
  | { readonly kind: 'busy' }
  | { readonly kind: 'no-file' };

export type Backup =
  /** The shop's local day, "2026-01-12". */
  | { readonly kind: 'made'; readonly copy: StoreCopy; readonly day: string }
  | NotCopied
  | { readonly kind: 'busy' }
  | { readonly kind: 'no-file' };

/** Every method throws PortFailure when a store did not do its work. */
export interface SetupDoors {
  readSettings(): Promise<SettingsWire>;
  putSettings(ask: SetupAsk<PutSettings>): Promise<SetupAnswer<SettingsWire>>;
  /** Null when there is none. */
  readCard(cardId: string): Promise<CardSetupWire | null>;
  putCard(cardId: string, ask: SetupAsk<PutCard>): Promise<SetupAnswer<CardSetupWire>>;
  previewCard(body: PreviewCard): CardPreview;
  putSensor(sensorId: string, ask: SetupAsk<PutSensor>): Promise<SetupAnswer<SensorWire>>;
  makeBackup(): Promise<Backup>;
  /** Null for a shop in memory. */
  readCopies(): Promise<CopiesWire | null>;
  makeCopy(key: string): Promise<CopyAnswer>;
  /** Null when there is none of that name. */
  openKeptCopy(name: string): Promise<StoreCopy | null>;
}
