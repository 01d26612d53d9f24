// Names and labels of figures are somebody's query: this list may grow, and nothing on it may be renamed.
import { describe, expect, it } from 'vitest';
import { METRICS } from '../../../server/application/ports/counters.ts';

describe('the table of figures', () => {
  it('has the names and labels that people have put into their queries', () => {
    const told = METRICS.map(({ name, type, labels }) => `${type} ${name}{${labels.join(',')}}`);
    expect(told.toSorted()).toEqual(KNOWN.toSorted());
  });

  // https://prometheus.io/docs/practices/naming/: counters end in _total, base units are in the name.
  it('follows the naming rules of Prometheus', () => {
    for (const { name, type, labels, help } of METRICS) {
      expect(name).toMatch(/^(sandby|process)_[a-z]+(_[a-z]+)*$/);
      expect(name.endsWith('_total')).toBe(type === 'counter');
      if (type === 'histogram') expect(name).toMatch(/_seconds$/);
      expect(name).not.toMatch(/_(ms|millis|minutes|min|kb|kib|percent)(_|$)/);
      for (const label of labels) expect(label).toMatch(/^[a-z]+(_[a-z]+)*$/);
      expect(help).toMatch(/^[^\n]{10,}\.$/);
    }
  });
});

const KNOWN = [
  'counter process_cpu_seconds_total{}',
  'counter sandby_commands_total{type,outcome}',
  'counter sandby_estimate_notes_total{note}',
  'counter sandby_facts_total{type}',
  'counter sandby_live_joins_total{outcome}',
  'counter sandby_live_messages_total{kind}',
  'counter sandby_payloads_refused_total{}',
  'counter sandby_port_failures_total{port,operation}',
  'counter sandby_problems_total{status}',
  'counter sandby_readings_set_aside_total{door,reason}',
  'counter sandby_readings_total{door,outcome}',
  'counter sandby_refusals_total{code}',
  'counter sandby_sequence_gaps_total{}',
  'gauge process_resident_memory_bytes{}',
  'gauge process_start_time_seconds{}',
  'gauge sandby_alerts_open{kind}',
  'gauge sandby_batches_open{stage}',
  'gauge sandby_build_info{version,node_version}',
  'gauge sandby_copy_age_seconds{}',
  'gauge sandby_heap_used_bytes{}',
  'gauge sandby_ledger_sequence{}',
  'gauge sandby_live_clients{}',
  'gauge sandby_outbox_messages{state}',
  'gauge sandby_outbox_oldest_age_seconds{}',
  'gauge sandby_part_degraded{part}',
  'gauge sandby_sensors{state}',
  'histogram sandby_estimate_duration_seconds{}',
  'histogram sandby_event_loop_delay_seconds{}',
  'histogram sandby_reading_duration_seconds{}',
];
