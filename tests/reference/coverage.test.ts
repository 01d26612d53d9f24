// Every row of the collected references that concerns what is built has a check, or a reason why it has none.
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

/**
 * Rows of each family: §1 temperature, §2 lognormal fits, §3 heat, §4 kinetics, §5 polyester, §6 humidity, §7 quality of
 * readings and alarms, §8 SenML, §9 trade practice, §11 data, §12 planning, §13 scores. Safety (§10) is not computed.
 */
const families = { ARR: 4, MKT: 2, Q10: 1, RAMP: 1, LETH: 2, MAT: 2, PW: 4, LC: 2, CONV: 1, RAD: 1 } as const;
const moreFamilies = { KAM: 3, NTH: 1, ROB: 1, ADI: 1, UP: 14, DP: 7 } as const;
const otherFamilies = { ALT: 6, INT: 2, QC: 5, AL: 5, SML: 5, TP: 7, DS: 4, SCH: 5, SC: 8 } as const;

const ids = Object.entries({ ...families, ...moreFamilies, ...otherFamilies }).flatMap(([family, count]) =>
  Array.from({ length: count }, (_, index) => `${family}-${index + 1}`),
);

const arrhenius = 'tests/reference/arrhenius.test.ts';
const heat = 'tests/reference/heat.test.ts';
const kinetics = 'tests/reference/kinetics.test.ts';
const humidity = 'tests/reference/humidity.test.ts';
const survival = 'tests/reference/survival.test.ts';
const sensorQuality = 'tests/reference/sensorQuality.test.ts';
const scoring = 'tests/reference/scoring.test.ts';
const mixAmount = 'tests/reference/mixAmount.test.ts';
const alertLoad = 'tests/simulation/alertLoad.test.ts';

/** Where a row is checked; its id stands beside the check. */
const checkedIn: Readonly<Record<string, string>> = {
  'ARR-1': arrhenius,
  'ARR-2': arrhenius,
  'ARR-3': arrhenius,
  'ARR-4': arrhenius,
  'MKT-1': arrhenius,
  'MKT-2': arrhenius,
  'Q10-1': arrhenius,
  'RAMP-1': arrhenius,
  'MAT-2': arrhenius,
  'PW-1': heat,
  'PW-2': heat,
  'PW-3': heat,
  'PW-4': heat,
  'LC-1': heat,
  'LC-2': heat,
  'CONV-1': heat,
  'RAD-1': heat,
  'ADI-1': heat,
  'KAM-1': kinetics,
  'KAM-2': kinetics,
  'KAM-3': kinetics,
  'NTH-1': kinetics,
  'ROB-1': kinetics,
  'DP-1': humidity,
  'DP-2': humidity,
  'DP-3': humidity,
  'DP-4': humidity,
  'DP-5': humidity,
  'DP-6': humidity,
  'DP-7': humidity,
  'TP-1': mixAmount,
  'TP-2': mixAmount,
  'TP-7': mixAmount,
  'UP-11': 'tests/engine/parts.test.ts',
  'ALT-1': survival,
  'ALT-2': survival,
  'ALT-3': survival,
  'ALT-4': survival,
  'ALT-5': survival,
  'ALT-6': survival,
  'INT-1': survival,
  'INT-2': survival,
  'QC-1': sensorQuality,
  'QC-2': sensorQuality,
  'QC-3': sensorQuality,
  'QC-4': 'tests/domain/judgeReading.test.ts',
  'QC-5': sensorQuality,
  'AL-1': alertLoad,
  'AL-2': alertLoad,
  'AL-3': 'tests/domain/alertLaws.test.ts',
  'SML-1': sensorQuality,
  'SML-2': sensorQuality,
  'SML-3': sensorQuality,
  'SML-4': sensorQuality,
  'SML-5': sensorQuality,
  'SCH-1': 'tests/domain/planHands.test.ts',
  'SC-1': scoring,
  'SC-2': scoring,
  'SC-3': scoring,
  'SC-4': scoring,
  'SC-5': scoring,
  'SC-7': scoring,
  'SC-8': scoring,
};

const otherChemistry =
  'another initiator or a hot cure; it bounds a chosen constant, the engine computes nothing of it';
const ofConstants = 'the source of a constant in server/engine/constants.ts; nothing is computed from it';

const unused: Readonly<Record<string, string>> = {
  'LETH-1':
    'a rate that rises by decades per degree (z value), not by Arrhenius: nothing in the engine has that law',
  'LETH-2': 'as LETH-1, and its author mixed up the units',
  'MAT-1': 'degree days above a datum temperature: nothing in the engine has that law',
  'UP-1': 'a regression exercise on a table that was not found again; MODEL.md chooses its own energies',
  'UP-2': `${ofConstants}: E_k and E_i lie inside its 40 to 60 kJ/mol`,
  'UP-3': otherChemistry,
  'UP-4': otherChemistry,
  'UP-5': `qualitative; ${ofConstants}: the diffusion factor's form`,
  'UP-6': 'qualitative',
  'UP-7': 'heat of the pure resin; the filled product has its own, fitted to UP-11',
  'UP-8': 'as UP-7, from memory',
  'UP-9': `${ofConstants}: gel at 0.05`,
  'UP-10': 'composition and glass temperature of cured putty: not in the model',
  'UP-12':
    'one sentence of a forum; the card of 15 to 20 minutes is checked by tests/engine/solveBatch.test.ts',
  'UP-13': otherChemistry,
  'UP-14': `${ofConstants}: heat capacity and conductivity lie inside its ranges`,
  'TP-3':
    'the cards that are shipped state it (MODEL §4); tests/engine/solveBatch.test.ts checks what comes of it',
  'TP-4': 'two bounds of Mix and the note of a thick film; nothing is computed from them',
  'TP-5': 'grits of paper: the program says nothing of them',
  'TP-6': 'a habit: each coat is a batch of its own',
  'AL-4':
    'a batch ends its alerts with itself; only a sensor that is dead for a day has one so old, which is seen or unmapped',
  'AL-5': 'alerts have kinds and people, no priorities',
  'DS-1': 'outdoor normals of many years: smoother than any shop, so no test reads them',
  'DS-2': 'as DS-1',
  'DS-3': 'as DS-1: how to read the file, which is not read',
  'DS-4': 'says that there is no public indoor set; tests/domain/roomAir.ts makes air from a seed instead',
  'SCH-2': 'weighted completion times: a shop promises instants, and no promise has a weight',
  'SCH-3': 'as SCH-2: the rule for weights',
  'SCH-4': 'two machines and no due dates: the plan orders the promises of one person at a time',
  'SCH-5': 'a solver for tests; at most eight jobs are enumerated in full there instead',
  'SC-6':
    'an error relative to the naive forecast of a series: a batch is no series, the program has no such figure',
};

describe('the collected references', () => {
  it.each(ids)('have a check or a reason for %s, not both', (id) => {
    const path = checkedIn[id];
    const reason = unused[id];
    expect(path === undefined, `${id} is checked nowhere and has no reason`).toBe(reason !== undefined);
    if (path === undefined) return;
    const text = readFileSync(resolve(import.meta.dirname, '../..', path), 'utf8');
    expect(text, `${path} names ${id}`).toMatch(new RegExp(`\\b${id}\\b`));
  });

  it('hold no rows beyond those counted', () => {
    expect([...Object.keys(checkedIn), ...Object.keys(unused)].filter((id) => !ids.includes(id))).toEqual([]);
  });
});
