// Whatever call fails in whatever use case: what is stored is as before or as after, and asking again comes to the same end.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeDoors } from '../../server/makeDoors.ts';
import { failEachCall } from '../support/nthCall.ts';
import { openTestShop } from '../support/testShop.ts';
import { countFor } from '../support/testSize.ts';
import { makeScene, type Scene } from './nthCallScene.ts';
import { OF_SHELF, PORTLESS, USE_CASES, type UseCase } from './nthCallTable.ts';

let folder = '';
let scene: Scene;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'sandby-nth-'));
  scene = await makeScene(folder);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('the table of use cases', () => {
  it('has every door of the shop', async () => {
    const { shop } = await openTestShop();
    const doors = Object.keys(makeDoors(shop, { version: '', refused: () => [] }));
    const tried = new Set<string | null>([...USE_CASES.map(({ door }) => door), ...PORTLESS, ...OF_SHELF]);
    expect(doors.filter((door) => !tried.has(door))).toEqual([]);
  });
});

const BY_DAY = [
  { mode: 'once', place: 'inMemory' },
  { mode: 'from then on', place: 'onFile' },
] as const;
const BY_NIGHT = [
  { mode: 'from then on', place: 'inMemory' },
  { mode: 'once', place: 'onFile' },
] as const;

/** By day a few that write in different ways are tried on a file, which waits for the disk. */
const ON_FILE_BY_DAY = ['startBatch', 'recordCheck powders', 'undo', 'putSensor', 'recordReading'];

function casesFor(place: 'inMemory' | 'onFile'): readonly UseCase[] {
  const isAll = place === 'inMemory' || countFor({ usual: 0, nightly: 1 }) === 1;
  return USE_CASES.filter(({ name }) => isAll || ON_FILE_BY_DAY.includes(name));
}

describe.each([...BY_DAY, ...BY_NIGHT.slice(0, countFor({ usual: 0, nightly: 2 }))])(
  'a call that fails $mode, $place',
  ({ mode, place }) => {
    it.each(casesFor(place))('leaves $name as before or after', async ({ ask, states }) => {
      const { callCount, stateCount } = await failEachCall(() => scene[place](ask), mode);
      expect(callCount).toBeGreaterThan(place === 'inMemory' ? 0 : -1);
      expect(stateCount).toBe(states);
    });
  },
);
