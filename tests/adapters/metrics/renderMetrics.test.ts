// What Prometheus would read is what was counted: written by us, read by a strict reader of the format's own rules.
import { describe, expect, it } from 'vitest';
import { makeCounters } from '../../../server/adapters/metrics/makeCounters.ts';
import { renderMetrics } from '../../../server/adapters/metrics/renderMetrics.ts';
import { METRICS } from '../../../server/application/ports/counters.ts';
import { parseMetrics } from '../../support/parseMetrics.ts';

const ODD_TEXT = 'a "b" \\n \\ c\nd';

describe('the text of figures', () => {
  it('gives back labels with quotes, backslashes and line feeds as they were', () => {
    const row = { name: 'odd_total', type: 'counter', labels: ['what'], help: 'One \\ two\nlines.' } as const;
    const sample = { suffix: '', labels: [['what', ODD_TEXT]] as const, measurement: 3 };
    const text = renderMetrics([row], () => [sample]);
    // The examples of the format's page: backslash, line feed and quote are escaped in labels, the first two in HELP.
    expect(text).toContain('# HELP odd_total One \\\\ two\\nlines.\n');
    expect(text).toContain('odd_total{what="a \\"b\\" \\\\n \\\\ c\\nd"} 3\n');
    expect(parseMetrics(text)[0]?.samples).toEqual([
      { name: 'odd_total', labels: { what: ODD_TEXT }, measurement: 3 },
    ]);
  });

  it('writes infinities as the format wants them', () => {
    const row = { name: 'far', type: 'gauge', labels: [], help: 'Far.' } as const;
    const text = renderMetrics([row], () => [
      { suffix: '', labels: [['to', 'a']], measurement: Infinity },
      { suffix: '', labels: [['to', 'b']], measurement: -Infinity },
    ]);
    expect(text).toContain('far{to="a"} +Inf\nfar{to="b"} -Inf\n');
  });

  it('keeps a histogram rising to its count, with every duration in its bucket', () => {
    const counters = makeCounters();
    for (const durationS of [0.0001, 0.001, 0.002, 0.3, 99])
      counters.observe('sandby_estimate_duration_seconds', durationS);
    const families = parseMetrics(renderMetrics(METRICS, (name) => counters.samplesOf(name)));
    const family = families.find(({ name }) => name === 'sandby_estimate_duration_seconds');
    const samples = family?.samples ?? [];
    const buckets = samples.filter(({ name }) => name.endsWith('_bucket'));
    const upTo = (bound: string): number | undefined =>
      buckets.find(({ labels }) => labels['le'] === bound)?.measurement;
    expect(buckets.map(({ measurement }) => measurement)).toEqual(
      buckets.map(({ measurement }) => measurement).toSorted((a, b) => a - b),
    );
    expect([upTo('0.0005'), upTo('0.001'), upTo('0.0025'), upTo('0.5'), upTo('10'), upTo('+Inf')]).toEqual([
      1, 2, 3, 4, 4, 5,
    ]);
    expect(samples.find(({ name }) => name.endsWith('_count'))?.measurement).toBe(5);
    expect(samples.find(({ name }) => name.endsWith('_sum'))?.measurement).toBeCloseTo(99.3031);
  });
});

describe('counters', () => {
  it('start at 0 where they have no labels, so that a rate can be taken from the start', () => {
    const families = parseMetrics(renderMetrics(METRICS, (name) => makeCounters().samplesOf(name)));
    expect(families.find(({ name }) => name === 'sandby_sequence_gaps_total')?.samples).toEqual([
      { name: 'sandby_sequence_gaps_total', labels: {}, measurement: 0 },
    ]);
  });

  it('keep apart what differs in a label, whatever order the labels come in', () => {
    const counters = makeCounters();
    counters.add('sandby_readings_total', { door: 'mqtt', outcome: 'recorded' });
    counters.add('sandby_readings_total', { outcome: 'recorded', door: 'mqtt' }, 2);
    counters.add('sandby_readings_total', { door: 'http', outcome: 'recorded' });
    expect(counters.samplesOf('sandby_readings_total').map(({ measurement }) => measurement)).toEqual([3, 1]);
  });
});

describe('the reader of the tests', () => {
  it.each([
    ['no HELP', /no HELP/, '# TYPE a counter\na 1\n'],
    ['a second TYPE', /second TYPE/, '# HELP a A\n# TYPE a gauge\na 1\n# HELP a A\n# TYPE a gauge\n'],
    ['a sample of nothing', /no TYPE/, 'a 1\n'],
    ['a sample told twice', /twice/, '# HELP a A\n# TYPE a gauge\na 1\na 2\n'],
    ['an open quote', /labels/, '# HELP a A\n# TYPE a gauge\na{b="c} 1\n'],
    ['no number', /no number/, '# HELP a A\n# TYPE a gauge\na one\n'],
    ['no line feed at the end', /line feed/, '# HELP a A\n# TYPE a gauge\na 1'],
  ])('turns down %s', (_what, reason, text) => {
    expect(() => parseMetrics(text)).toThrow(reason);
  });
});
