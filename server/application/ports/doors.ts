// The doors of the shop as adapters see them: what may be asked, and what comes back. The composition root ties the use cases to them.
import type {
  AirColumnsWire,
  AlertWire,
  BatchCommand,
  BatchWire,
  BayWire,
  CardWire,
  EstimateWire,
  HealthWire,
  Instant,
  PlanWire,
  PreviewBatch,
  Reading,
  ReadingsAnswer,
  Refusal,
  RefusedPayload,
  ReliabilityWire,
  SensorWire,
  SnapshotWire,
  StartBatch,
} from '../../contract/index.ts';

/** What a person asks for, with the key under which the answer is kept. */
export interface Ask<Body> {
  readonly key: string;
  readonly body: Body;
}

export type Answer =
  | { readonly kind: 'done'; readonly batch: BatchWire; readonly isRepeat: boolean }
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

/** Every method throws PortFailure when a store did not do its work. */
export interface Doors {
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
  readCards(): Promise<CardWire[]>;
  /** How often what was promised came true. */
  readReliability(): Promise<ReliabilityWire>;
  /** Who is needed where next. */
  readPlan(): Promise<PlanWire>;
  readSensors(): Promise<SensorWire[]>;
  /** Payloads that no parser could read, newest first. */
  readRefusedPayloads(): readonly RefusedPayload[];
  readHealth(): Promise<HealthWire>;
}
