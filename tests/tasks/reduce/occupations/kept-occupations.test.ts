import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { prepareReduction } from '../../../../src/files/reduction/prepare-reduction.js';
import { readFixesFile } from '../../../../src/files/reduction/read-fixes-file.js';
import { readSessionFile } from '../../../../src/files/sessions/read-session-file.js';
import type { Fix } from '../../../../src/records/points/fix.js';
import { createReducer } from '../../../../src/tasks/reduce/reduce-points.js';
import type { ReductionSetup } from '../../../../src/tasks/reduce/reduction-setup.js';
import type { ReducedOccupation } from '../../../../src/tasks/reduce/reduction-working.js';
import { keptRecord } from '../../../support/kept-record.js';
import { valueOf } from '../../../support/shift-of-row.js';

// Regression, kept whole: occupations of the example reduced as they are and with one thing changed and another, with their working.
// Whether a reduction is right is what the examples, the explanations and the tests of src/core hold.

const folder = fileURLToPath(new URL('../../../../examples/quillback-pan/', import.meta.url));
const session = valueOf(await readSessionFile(`${folder}session.toml`));
const { setup, ...reduction } = valueOf(await prepareReduction(session, [`${folder}fixes.csv`]));
const read = valueOf(await readFixesFile(`${folder}fixes.csv`, { setup, ...reduction }));
const FIXES: Fix[] = [];
for await (const block of read.blocks()) FIXES.push(...valueOf(block).fixes);
const of = (...ids: readonly string[]): readonly Fix[] => FIXES.filter(({ pointId }) => ids.includes(pointId));

type Change = (fix: Fix, index: number) => Partial<Fix>;
const { acceptance } = setup;
const CASES: Readonly<Record<string, readonly [readonly Fix[], Change, Partial<ReductionSetup>]>> = {
  'as they are': [of('QP-02', 'C-01'), () => ({}), {}],
  'refused by every limit in turn': [
    of('QP-02'),
    (_, index) =>
      [
        { solution: 'float' as const },
        { pdop: 9 },
        { correctionAgeS: 60 },
        { satellitesUsed: 3 },
        { tiltDeg: 30, tiltAzimuthDeg: 10 },
        { sigmaEastM: 0.2, sigmaNorthM: 0.2 },
        { sigmaUpM: 0.4 },
        {},
      ][index % 8] ?? {},
    {
      acceptance: {
        ...acceptance,
        ...{ maxPdop: 6, maxCorrectionAgeS: 30, minSatellites: 5, maxTiltDeg: 15, maxBaselineM: 100_000 },
        ...{ maxSigmaHorizontalM: 0.1, maxSigmaVerticalM: 0.15 },
      },
    },
  ],
  'too few and too short': [
    of('QP-02').slice(0, 3),
    () => ({}),
    { acceptance: { ...acceptance, minEpochs: 5, minDurationS: 60 } },
  ],
  'no times, no figures': [
    of('QP-03').slice(0, 6),
    () => ({
      epochMs: null,
      pdop: null,
      hdop: null,
      sigmaEastM: null,
      sigmaNorthM: null,
      sigmaUpM: null,
      correctionAgeS: null,
    }),
    {},
  ],
  'a pole that leans': [
    of('QP-04'),
    (_, index) => ({ tiltDeg: 3 + (index % 3), tiltAzimuthDeg: (40 * index) % 360, referencePoint: 'arp' as const }),
    {},
  ],
  'one that creeps and one far off': [
    of('QP-05'),
    ({ geodetic }, index) => ({
      geodetic: {
        ...geodetic,
        latitudeDeg: geodetic.latitudeDeg + 2e-8 * index,
        ellipsoidalHeightM: geodetic.ellipsoidalHeightM + (index === 4 ? 0.6 : 0),
      },
    }),
    { tolerance: { horizontalM: 0.02, verticalM: 0.03 } },
  ],
  'a base that no row names': [of('QP-06'), () => ({ baseId: null }), {}],
};
const LEFT_OUT = ['passThrough', 'place', 'fix', 'base', 'grid', 'geoid', 'setup', 'frame', 'geodesic', 'systems'];

describe('an occupation, as it was reduced', () => {
  it.each(Object.entries(CASES))('%s', async (name, [fixes, change, own]) => {
    const found: ReducedOccupation[] = [];
    const problems: string[] = [];
    const reducer = createReducer(
      { ...setup, ...own },
      {
        onPoint: (one) => found.push(one),
        onProblems: (all) => problems.push(...all.map(({ code, message }) => `${code}: ${message}`)),
      },
    );
    expect(fixes.length).toBeGreaterThan(2);
    reducer.push(fixes.map((fix, index) => ({ ...fix, ...change(fix, index) })));
    reducer.finish();
    const record = {
      problems,
      occupations: found.slice(0, 2).map(({ point, working }) => ({
        point: { ...point },
        working: { ...working, epochs: [...working.epochs].slice(0, 8), reduced: [...working.reduced].slice(0, 2) },
      })),
    };
    await expect(keptRecord(record, LEFT_OUT)).toMatchFileSnapshot(`./kept/${name.replaceAll(/[, ]+/gu, '-')}.txt`);
  });
});
