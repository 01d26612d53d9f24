// The figures of a running program: what was counted since the start, and what there is at the moment of the question.
import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import {
  METRICS,
  type Counters,
  type CounterName,
  type GaugeName,
} from '../../application/ports/counters.ts';
import type { Doors } from '../../application/ports/doors.ts';
import type { HealthWire } from '../../contract/index.ts';
import { makeCounters } from './makeCounters.ts';
import { renderMetrics, type Sample } from './renderMetrics.ts';

export interface OpenMeter {
  readonly counters: Counters;
  /** Every figure as Prometheus reads it. */
  read(sources: MeterSources): Promise<string>;
  /** Counts the problems that a server answers with. */
  watchAnswers(server: Server): void;
}

/** Where figures come from that are not counted as they happen. */
export interface MeterSources {
  readonly doors: Pick<Doors, 'readFigures' | 'readHealth'>;
  readonly feed: { clientCount(): number };
  /** Null before the broker is open. */
  readonly refused: { count(): number } | null;
  readonly version: string;
}

/** Long against the asking itself, short against what a person notices [ms]. */
const ASK_EVERY_MS = 20;
/** Answers below are none of a problem. */
const PROBLEM_STATUS_MIN = 400;

/** Starts counting. */
export function openMeter(): OpenMeter {
  const counters = makeCounters();
  watchLoop(counters);
  return {
    counters,
    read: async (sources) => {
      const now = await readNow(sources);
      return renderMetrics(METRICS, (name) => now.get(name) ?? counters.samplesOf(name));
    },
    watchAnswers(server) {
      server.on('request', (_request: IncomingMessage, response: ServerResponse) => {
        response.once('finish', () => {
          const { statusCode: status } = response;
          if (status >= PROBLEM_STATUS_MIN) counters.add('sandby_problems_total', { status: String(status) });
        });
      });
    },
  };
}

/** Asks again and again how late it is asked. */
function watchLoop(counters: Counters): void {
  let dueMs = performance.now() + ASK_EVERY_MS;
  const timer = setInterval(() => {
    const nowMs = performance.now();
    counters.observe('sandby_event_loop_delay_seconds', Math.max(0, nowMs - dueMs) / 1000);
    dueMs = nowMs + ASK_EVERY_MS;
  }, ASK_EVERY_MS);
  timer.unref();
}

async function readNow(sources: MeterSources): Promise<Map<string, readonly Sample[]>> {
  const now = new Map<string, readonly Sample[]>();
  const say = (name: GaugeName | CounterName, measurement: number, labels: Sample['labels'] = []): void => {
    now.set(name, [...(now.get(name) ?? []), { suffix: '', labels, measurement }]);
  };
  const { user, system } = process.cpuUsage();
  const { rss, heapUsed } = process.memoryUsage();
  say('process_resident_memory_bytes', rss);
  say('sandby_heap_used_bytes', heapUsed);
  say('process_cpu_seconds_total', (user + system) / 1e6);
  say('process_start_time_seconds', (Date.now() - 1000 * process.uptime()) / 1000);
  say('sandby_build_info', 1, [
    ['version', sources.version],
    ['node_version', process.versions.node],
  ]);
  say('sandby_live_clients', sources.feed.clientCount());
  say('sandby_payloads_refused_total', sources.refused?.count() ?? 0);
  const health = await orNull(sources.doors.readHealth());
  for (const [part, state] of partsOf(health)) {
    say('sandby_part_degraded', state === 'ok' ? 0 : 1, [['part', part]]);
  }
  if (health !== null) {
    const { owedCount, givenUpCount, oldestS } = health.outbox;
    say('sandby_outbox_messages', owedCount, [['state', 'owed']]);
    say('sandby_outbox_messages', givenUpCount, [['state', 'given-up']]);
    say('sandby_outbox_oldest_age_seconds', oldestS ?? 0);
  }
  const figures = await orNull(sources.doors.readFigures());
  // A store that cannot be read takes its own figures away, not those that tell of it.
  if (figures === null) return now;
  say('sandby_ledger_sequence', figures.sequence);
  if (figures.copyAgeS !== null) say('sandby_copy_age_seconds', figures.copyAgeS);
  for (const [stage, count] of figures.openBatchCounts) say('sandby_batches_open', count, [['stage', stage]]);
  for (const [kind, count] of figures.openAlertCounts) say('sandby_alerts_open', count, [['kind', kind]]);
  for (const [state, count] of figures.sensorCounts) say('sandby_sensors', count, [['state', state]]);
  return now;
}

function partsOf(health: HealthWire | null): (readonly [part: string, state: string])[] {
  return health === null ? [['ledger', 'unread']] : Object.entries(health.parts);
}

async function orNull<Given>(given: Promise<Given>): Promise<Given | null> {
  return given.catch(() => null);
}
