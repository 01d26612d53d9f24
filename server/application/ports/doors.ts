// The doors of the shop as adapters see them: what may be asked, and what comes back. The composition root ties the use cases to them.
import type {
  AirColumnsWire,
  AlertWire,
  BatchCommand,
  BatchWire,
  BayWire,
  CardWire,
  CostWire,
  EstimateWire,
  HealthWire,
  Instant,
  PlanWire,
  PreviewBatch,
  Reading,
  ReadingsAnswer,
  RecordsWire,
  RecordWire,
  Refusal,
  RefusedPayload,
  ReliabilityWire,
  RepairOrderWire,
  SensorWire,
  SnapshotWire,
  StartBatch,
} from '../../contract/index.ts';
import type { RecordFilter } from '../../domain/recordGroups.ts';
import type { SetupDoors } from './setupDoors.ts';

/** What a person asks for, with the key under which the answer is kept. */
export interface Ask<Body> {
  readonly key: string;
  readonly body: Body;
}

export type Answer =
  | { readonly kind: 'done'; readonly batch: BatchWire; readonly isRepeat: boolean }
  /** An alert that belongs to no batch was marked. */
  | { readonly kind: 'seen'; readonly alert: AlertWire; readonly isRepeat: boolean }
  | { readonly kind: 'refused'; readonly refusal: Refusal }
  | { readonly kind: 'key-reused' };

/** An estimate of what is not so. */
export type Preview =
  | { readonly kind: 'done'; readonly estimate: EstimateWire }
  | { readonly kind: 'refused'; readonly refusal: Refusal };

export interface AirQuestion {
  readonly fromAt: Instant;
  readonly toAt: Instant;
  /** 0: every stored reading, set-aside ones included. */
  readonly stepMin: number;
}

export interface RecordsQuestion {
  readonly filter: RecordFilter;
  /** Groups on a page. */
  readonly limit: number;
  /** Only groups whose newest batch is older; null for the first page. */
  readonly beforeAt: Instant | null;
}

/** What a bay's air cost; null where the shop chooses: the last seven local days, its first product. */
export interface CostQuestion {
  readonly fromAt: Instant | null;
  readonly toAt: Instant | null;
  readonly cardId: string | null;
  /** Times of day between which the bay would be heated, "6" or "06:30". */
  readonly heatFrom: string;
  readonly heatTo: string;
  readonly heatC: number;
}

export type CostAnswer =
  | { readonly kind: 'done'; readonly cost: CostWire }
  | { readonly kind: 'unknown-bay' }
  | { readonly kind: 'unknown-card' };

/** How much of everything there is just now. */
export interface ShopFigures {
  readonly sequence: number;
  /** By stage, by kind, and by whether they are heard, quiet, never heard or unknown. */
  readonly openBatchCounts: ReadonlyMap<string, number>;
  readonly openAlertCounts: ReadonlyMap<string, number>;
  readonly sensorCounts: ReadonlyMap<string, number>;
  /** How old the newest kept copy is; null where there is none. */
  readonly copyAgeS: number | null;
}

/** Every method throws PortFailure when a store did not do its work. */
export interface Doors extends SetupDoors {
  nowAt(): Instant;
  recordReading(readings: readonly Reading[]): Promise<ReadingsAnswer>;
  startBatch(ask: Ask<StartBatch>): Promise<Answer>;
  handleCommand(batchId: string, ask: Ask<BatchCommand>): Promise<Answer>;
  acknowledgeAlert(alertId: string, ask: Ask<{ readonly by?: string | undefined }>): Promise<Answer>;
  previewStart(body: StartBatch): Promise<Preview>;
  previewBatch(body: PreviewBatch): Promise<Preview>;
  readSnapshot(): Promise<SnapshotWire>;
  readAlerts(): Promise<AlertWire[]>;
  readBatches(which: { openOnly: boolean }): Promise<{ sequence: number; batches: BatchWire[] }>;
  /** Null when there is none. */
  readBatch(batchId: string): Promise<(BatchWire & { facts: Record<string, unknown>[] }) | null>;
  readBays(): Promise<BayWire[]>;
  /** Null when there is no such bay. */
  readAirHistory(bayId: string, question: AirQuestion): Promise<AirColumnsWire | null>;
  readCost(bayId: string, question: CostQuestion): Promise<CostAnswer>;
  readCards(): Promise<CardWire[]>;
  /** How often what was promised came true. */
  readReliability(): Promise<ReliabilityWire>;
  readRecords(question: RecordsQuestion): Promise<RecordsWire>;
  /** Null when no batch was mixed for it. */
  readRepairOrder(repairOrder: string): Promise<RepairOrderWire | null>;
  /** Newest first, read as they are taken. */
  readRecordRows(filter: RecordFilter): AsyncIterable<RecordWire>;
  /** Who is needed where next. */
  readPlan(): Promise<PlanWire>;
  readSensors(): Promise<SensorWire[]>;
  /** Payloads that no parser could read, newest first. */
  readRefusedPayloads(): readonly RefusedPayload[];
  readHealth(): Promise<HealthWire>;
  readFigures(): Promise<ShopFigures>;
  /** The broker listens, or no longer does. */
  noteBroker(isListening: boolean): void;
}
