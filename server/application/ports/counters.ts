// What the program counts of its own work: one small port for the middle, and the one table of all figures, from which
// they are registered, described in the API's page and held still by a test: renaming one breaks somebody's query.

export interface MetricRow {
  readonly name: string;
  /** counter: only rises; gauge: as it is now; histogram: durations by how long they were. */
  readonly type: 'counter' | 'gauge' | 'histogram';
  readonly labels: readonly string[];
  /** One line: what it means. */
  readonly help: string;
}

type Row = (typeof METRICS)[number];
export type CounterName = Extract<Row, { type: 'counter' }>['name'];
export type GaugeName = Extract<Row, { type: 'gauge' }>['name'];
export type HistogramName = Extract<Row, { type: 'histogram' }>['name'];
export type Labels = Readonly<Record<string, string>>;

/** Counting never fails and never waits. */
export interface Counters {
  /** Adds to a counter. */
  add(name: CounterName, labels: Labels, count?: number): void;
  /** Notes how long something took. */
  observe(name: HistogramName, durationS: number): void;
}

/** For a shop whose figures nobody asks for. */
export const NO_COUNTERS: Counters = { add: () => undefined, observe: () => undefined };

/** Every figure there is. Counters end in _total, units stand last, in seconds and bytes. */
export const METRICS = [
  {
    name: 'sandby_readings_total',
    type: 'counter',
    labels: ['door', 'outcome'],
    help: 'Readings that were acknowledged, by door and by whether they were recorded or repeated.',
  },
  {
    name: 'sandby_readings_set_aside_total',
    type: 'counter',
    labels: ['door', 'reason'],
    help: 'Readings that were kept and marked and move no estimate, by reason.',
  },
  {
    name: 'sandby_payloads_refused_total',
    type: 'counter',
    labels: [],
    help: 'MQTT payloads that no parser could read.',
  },
  {
    name: 'sandby_commands_total',
    type: 'counter',
    labels: ['type', 'outcome'],
    help: 'What people asked for, by what became of it.',
  },
  {
    name: 'sandby_refusals_total',
    type: 'counter',
    labels: ['code'],
    help: 'Acts that were refused as things stood, by code.',
  },
  {
    name: 'sandby_problems_total',
    type: 'counter',
    labels: ['status'],
    help: 'HTTP answers that were problems, by status.',
  },
  {
    name: 'sandby_port_failures_total',
    type: 'counter',
    labels: ['port', 'operation'],
    help: 'Calls in which a store did not do its work.',
  },
  {
    name: 'sandby_facts_total',
    type: 'counter',
    labels: ['type'],
    help: 'Facts appended to the ledger since the start.',
  },
  {
    name: 'sandby_live_messages_total',
    type: 'counter',
    labels: ['kind'],
    help: 'Messages to the screens, each counted once however many screens there are.',
  },
  {
    name: 'sandby_live_joins_total',
    type: 'counter',
    labels: ['outcome'],
    help: 'Screens that joined: level, caught-up from what is kept, or sent to the snapshot by a resync.',
  },
  {
    name: 'sandby_sequence_gaps_total',
    type: 'counter',
    labels: [],
    help: 'Changes that a screen found missing and healed by reading the snapshot.',
  },
  {
    name: 'sandby_estimate_notes_total',
    type: 'counter',
    labels: ['note'],
    help: 'Estimates with a note, such as air-gap or stalled.',
  },
  {
    name: 'sandby_reading_duration_seconds',
    type: 'histogram',
    labels: [],
    help: 'From a reading at the door until it is stored.',
  },
  {
    name: 'sandby_estimate_duration_seconds',
    type: 'histogram',
    labels: [],
    help: 'How long one estimate took.',
  },
  {
    name: 'sandby_event_loop_delay_seconds',
    type: 'histogram',
    labels: [],
    help: 'How late the program came to work that was due, asked every 20 ms.',
  },
  { name: 'sandby_ledger_sequence', type: 'gauge', labels: [], help: 'The newest sequence of the ledger.' },
  { name: 'sandby_batches_open', type: 'gauge', labels: ['stage'], help: 'Open batches by stage.' },
  { name: 'sandby_alerts_open', type: 'gauge', labels: ['kind'], help: 'Open alerts by kind.' },
  {
    name: 'sandby_sensors',
    type: 'gauge',
    labels: ['state'],
    help: 'Sensors: heard, quiet, never heard, or without a bay (unknown).',
  },
  { name: 'sandby_live_clients', type: 'gauge', labels: [], help: 'Screens that are connected.' },
  {
    name: 'sandby_part_degraded',
    type: 'gauge',
    labels: ['part'],
    help: '1 while a part of the program is in trouble, as in /health.',
  },
  {
    name: 'sandby_outbox_messages',
    type: 'gauge',
    labels: ['state'],
    help: 'Messages to phones and programs: owed, or given up after many tries.',
  },
  {
    name: 'sandby_outbox_oldest_age_seconds',
    type: 'gauge',
    labels: [],
    help: 'How long the oldest message that is owed has waited; 0 where none is.',
  },
  {
    name: 'sandby_copy_age_seconds',
    type: 'gauge',
    labels: [],
    help: 'Age of the newest kept copy of the store; absent where there is none.',
  },
  {
    name: 'process_resident_memory_bytes',
    type: 'gauge',
    labels: [],
    help: 'Memory that the process holds.',
  },
  { name: 'sandby_heap_used_bytes', type: 'gauge', labels: [], help: 'JavaScript heap in use.' },
  {
    name: 'process_cpu_seconds_total',
    type: 'counter',
    labels: [],
    help: 'Processor time that the process has taken.',
  },
  {
    name: 'process_start_time_seconds',
    type: 'gauge',
    labels: [],
    help: 'When the process started, in seconds since 1970.',
  },
  {
    name: 'sandby_build_info',
    type: 'gauge',
    labels: ['version', 'node_version'],
    help: 'Always 1; the versions are in the labels.',
  },
] as const satisfies readonly MetricRow[];
