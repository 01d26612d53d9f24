import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { windyDoor } from '../../../sensors-sim/scenarios/windyDoor.ts';
import { writeDiary } from '../../../sensors-sim/transport/writeDiary.ts';
import { at } from '../playDay.ts';
import { diaryOf } from '../playDiaries.ts';

const folder = mkdtempSync(join(tmpdir(), 'sandby-diary-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a written diary', () => {
  it('holds each line of the played one, one a line, and nothing that was there before', async () => {
    const path = join(folder, 'windy.jsonl');
    writeFileSync(path, 'x'.repeat(5_000_000));
    const days = { forDays: 1, quietDays: 0 };
    const fromAt = at('2026-01-12T00:00:00Z');
    await writeDiary(path, { scenario: windyDoor, seed: 7, timeZone: 'UTC', fromAt, ...days });
    const written = readFileSync(path, 'utf8').split('\n');
    expect(written.pop()).toBe('');
    expect(written.map((line): unknown => JSON.parse(line))).toEqual(diaryOf(windyDoor, days));
  });

  it('is refused where no file can be', async () => {
    const inputs = { scenario: windyDoor, seed: 7, timeZone: 'UTC', fromAt: at('2026-01-12T00:00:00Z') };
    await expect(writeDiary(join(folder, 'a', 'b'), { ...inputs, forDays: 1 })).rejects.toThrow('ENOENT');
  });
});
