// The program as it is shipped, against a server on real sockets.
import { type ChildProcess, fork, spawnSync, type SpawnSyncReturns } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, afterEach, describe, expect, it, vi } from 'vitest';
import { type FakeShop, openFakeShop } from './transport/fakeShop.ts';

const program = resolve(import.meta.dirname, '../../dist/sensors-sim/main.js');
const startAt = Date.parse('2026-01-12T06:40:00Z');

const closers: (() => unknown)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0).toReversed()) await close();
});

async function openShop(rate = 300): Promise<FakeShop> {
  const shop = await openFakeShop({ startAt, rate });
  closers.push(() => shop.close());
  return shop;
}

function simulate(shop: FakeShop): { child: ChildProcess; said: () => string } {
  const flags = ['--http', shop.httpUrl, '--mqtt', shop.mqttUrl, '--speed', '20'];
  const child = fork(program, flags, { stdio: ['ignore', 'pipe', 'pipe', 'ipc'] });
  closers.push(() => child.kill('SIGKILL'));
  let text = '';
  child.stdout?.on('data', (chunk: Buffer) => (text += chunk.toString()));
  child.stderr?.on('data', (chunk: Buffer) => (text += chunk.toString()));
  return { child, said: () => text };
}

const until = (holds: () => void): Promise<void> => vi.waitFor(holds, { timeout: 15_000, interval: 50 });

describe('wrong arguments', () => {
  it.each([
    [['--scenario', 'nowhere'], 'unknown scenario nowhere'],
    [['--fast'], 'unknown flag --fast'],
  ])('%j end with one line and exit code 2', (args, says) => {
    const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...args], { encoding: 'utf8' });
    expect(status).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toMatch(new RegExp(`^simulate: ${says}[^\n]*\n$`));
  });
});

describe('a diary', () => {
  const folder = mkdtempSync(join(tmpdir(), 'sandby-diary-'));
  const write = (file: string): SpawnSyncReturns<string> =>
    spawnSync(
      process.execPath,
      [program, '--scenario', 'windy-door', '--diary', file, '--from', '2026-01-12', '--days', '1'],
      { encoding: 'utf8' },
    );
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('is written without any server', () => {
    const file = join(folder, 'windy.jsonl');
    expect(write(file)).toMatchObject({ status: 0, stdout: '', stderr: '' });
    const lines = readFileSync(file, 'utf8').trimEnd().split('\n');
    expect(lines).toHaveLength(2 * 1440 - 1);
    expect(JSON.parse(lines[0] ?? '')).toMatchObject({ kind: 'reading', sensorId: 'bay-2-air' });
  });

  it('that cannot be written ends with one line and exit code 2', () => {
    const { status, stdout, stderr } = write(join(folder, 'nowhere', 'windy.jsonl'));
    expect(status).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toMatch(/^simulate: [^\n]*windy.jsonl[^\n]*\n$/);
  });
});

describe('a running simulator', () => {
  it('tells the night’s air first, then works like people, each act under a key of its own', async () => {
    const shop = await openShop();
    const { said } = simulate(shop);
    await until(() =>
      expect(shop.came.filter(({ what }) => what.endsWith('/commands')).length).toBeGreaterThan(6),
    );
    const firstMix = shop.came.findIndex(({ what }) => what === '/api/v1/batches');
    const before = shop.came.slice(0, firstMix).map(({ what }) => what);
    expect(before.filter((what) => what === 'sandby/v1/readings/bay-1-air').length).toBeGreaterThan(150);
    const pack = shop.came.find(({ what }) => what === 'sandby/v1/readings/booth-air')?.body;
    expect(pack).toMatchObject([{ bn: 'booth-air:', u: 'Cel' }, { u: '%RH' }]);
    const keys = shop.came.flatMap(({ key }) => key ?? []);
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys.every((key) => key.length > 10 && key.length <= 200)).toBe(true);
    expect(said()).toContain('runs at 300 ×, not 20 ×');
    expect(said()).not.toContain('refuses');
  });

  it('waits while the server is away and goes on when it is back', async () => {
    const shop = await openShop();
    const { child, said } = simulate(shop);
    await until(() => expect(shop.batches.size).toBeGreaterThan(1));
    await shop.goAway();
    await until(() => expect(said()).toContain('waiting for the server'));
    const cameCount = shop.came.length;
    await shop.comeBack();
    await until(() =>
      expect(shop.came.slice(cameCount).some(({ what }) => what.includes('batches'))).toBe(true),
    );
    expect(child.exitCode).toBeNull();
    expect([...shop.batches.values()].map((batch) => `${batch.repairOrder} ${batch.mixedAt}`)).toHaveLength(
      new Set([...shop.batches.values()].map((batch) => `${batch.repairOrder} ${batch.mixedAt}`)).size,
    );
  });

  it('begins anew on a server that has another ledger', async () => {
    const shop = await openShop();
    const { said } = simulate(shop);
    await until(() => expect(shop.batches.size).toBeGreaterThan(1));
    await shop.goAway();
    await until(() => expect(said()).toContain('waiting for the server'));
    shop.setLedger('ledger-2');
    await shop.comeBack();
    const isNewMix = ({ what, key }: FakeShop['came'][number]): boolean =>
      what === '/api/v1/batches' && key !== null && key.includes('ledger-2');
    await until(() => expect(shop.came.some(isNewMix)).toBe(true));
  });

  it('waits for a server that is not there yet', async () => {
    const shop = await openShop();
    await shop.goAway();
    const { said } = simulate(shop);
    await until(() => expect(said()).toContain('waiting for the server'));
    await shop.comeBack();
    await until(() => expect(shop.batches.size).toBeGreaterThan(0));
  });

  it.each(['SIGTERM', 'SIGINT'] as const)('stops at once on %s with exit code 0', async (signal) => {
    const shop = await openShop(20);
    const { child } = simulate(shop);
    await until(() => expect(shop.came.length).toBeGreaterThan(0));
    child.kill(signal);
    expect(await once(child, 'exit')).toEqual([0, null]);
  });

  it('stops when the program that started it is gone', async () => {
    const shop = await openShop(20);
    const { child } = simulate(shop);
    await until(() => expect(shop.came.length).toBeGreaterThan(0));
    child.disconnect();
    expect(await once(child, 'exit')).toEqual([0, null]);
  });
});
