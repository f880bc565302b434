import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { prepareReduction } from '../../../../src/files/reduction/prepare-reduction.js';
import { readSessionFile } from '../../../../src/files/sessions/read-session-file.js';
import type { Fix } from '../../../../src/records/points/fix.js';
import { createReducer } from '../../../../src/tasks/reduce/reduce-points.js';
import type { ReductionSetup } from '../../../../src/tasks/reduce/reduction-setup.js';
import { createReductionTotals } from '../../../../src/tasks/reduce/totals/reduction-totals.js';
import { makeFix } from '../../../core/observation/make-fix.js';
import { seededRandom } from '../../../support/seeded-random.js';
import type { SeededRandom } from '../../../support/seeded-random.js';
import { valueOf } from '../../../support/shift-of-row.js';

// Identity: points of one fix reduced in the same records again and again, and with all their working, are the same to the last
// bit, and so is all that is counted of them. Whether a reduction is right is what the examples and the tests of src/core hold.

const folder = fileURLToPath(new URL('../../../../examples/quillback-pan/', import.meta.url));
const session = valueOf(await readSessionFile(`${folder}session.toml`));
const { setup } = valueOf(await prepareReduction(session, [`${folder}fixes.csv`]));
const { acceptance, rover, tolerance } = setup;
const base = setup.bases[0]!;
const plain = { ...base, settings: { ...base.settings, fromMs: null, toMs: null } };
const { latitudeDeg, longitudeDeg } = base.origin.geodetic;
const LIMITS: ReductionSetup['acceptance'] = {
  ...acceptance,
  ...{ maxPdop: 4, maxCorrectionAgeS: 5, minSatellites: 8, maxTiltDeg: 15, maxBaselineM: 40_000 },
  ...{ maxSigmaHorizontalM: 0.02, maxSigmaVerticalM: 0.03, minEpochs: null, minDurationS: null },
};
const OPEN: ReductionSetup['acceptance'] = {
  ...LIMITS,
  ...{ maxPdop: null, maxCorrectionAgeS: null, minSatellites: null, maxBaselineM: null },
  ...{ maxSigmaHorizontalM: null, maxSigmaVerticalM: null },
};
const moved = (upM: number): (typeof plain)['correction'] => ({
  translation: { xM: 1 + upM, yM: -2, zM: 0.5 },
  magnitudeM: Math.hypot(1 + upM, 2, 0.5),
  local: { eastM: -2, northM: 0.3, upM },
});

const SETUPS: Readonly<Record<string, ReductionSetup>> = {
  'of one base': { ...setup, bases: [plain], acceptance: OPEN },
  'of a base that was 3 m too high': { ...setup, bases: [{ ...plain, correction: moved(3) }], acceptance: OPEN },
  'of a base that was 12 m off': { ...setup, bases: [{ ...plain, correction: moved(12) }], acceptance: OPEN },
  'of no base': { ...setup, bases: [], acceptance: OPEN },
  'with every limit': { ...setup, bases: [plain], acceptance: LIMITS },
  'with tolerances': {
    ...setup,
    bases: [plain],
    acceptance: OPEN,
    tolerance: { ...tolerance, horizontalM: 0.045, verticalM: 0.985 },
  },
  'with fewest epochs': { ...setup, bases: [plain], acceptance: { ...OPEN, minEpochs: 2 } },
  'with the shortest time': { ...setup, bases: [plain], acceptance: { ...OPEN, minDurationS: 1 } },
  'of tips': { ...setup, bases: [plain], acceptance: OPEN, rover: { ...rover, referencePoint: 'tip' } },
  'without a geoid': { ...setup, geoid: null, bases: [plain], acceptance: OPEN },
  'without what the geoid is good to': { ...setup, geoidSigmaM: null, bases: [plain], acceptance: OPEN },
  'without a grid': { ...setup, grid: null, bases: [plain], acceptance: OPEN },
};

const maybe = (random: SeededRandom, value: number): number | null => (random.next() < 0.3 ? null : value);

/** Fixes that follow each other, most of them of points of their own; now and then one that is odd. */
function fixesOf(random: SeededRandom, count: number): Fix[] {
  return Array.from({ length: count }, (_, index) => {
    const isOdd = random.next() < 0.15;
    const farDeg = isOdd ? 20 : 0.35;
    const tilt = isOdd && random.next() < 0.5 ? random.between(0, 20) : null;
    const sigmas = random.next() < 0.4;
    return makeFix({
      pointId: random.next() < 0.1 ? 'P' : `P${String(index)}`,
      epochMs: Date.UTC(2026, 2, 4, 9) + 1000 * index,
      geodetic: {
        latitudeDeg: latitudeDeg + random.between(-farDeg, farDeg),
        longitudeDeg: longitudeDeg + random.between(-farDeg, farDeg),
        ellipsoidalHeightM: random.between(800, 1400),
      },
      solution: isOdd ? 'float' : 'fixed',
      correctionAgeS: maybe(random, random.between(0, 8)),
      satellitesUsed: maybe(random, 6 + random.index(20)),
      pdop: maybe(random, random.between(1, 5)),
      ...(sigmas ? { sigmaEastM: 0.011, sigmaNorthM: random.between(0.005, 0.025), sigmaUpM: 0.02 } : {}),
      correlationEn: maybe(random, random.between(-0.9, 0.9)),
      baseId: maybe(random, 1) === null ? null : base.settings.id,
      poleLengthM: maybe(random, 1.8 + 0.2 * random.index(3)),
      referencePoint: random.next() < 0.1 ? 'tip' : 'arp',
      tiltDeg: tilt,
      tiltAzimuthDeg: tilt === null ? null : random.between(0, 360),
      epochCount: random.next() < 0.2 ? 1 + random.index(30) : 1,
      passThrough: [`note ${String(index)}`],
      place: { sourceIndex: 0, line: index + 2 },
      ...(random.next() < 0.05 ? { separationM: 25 } : {}),
    });
  });
}

/** Points as they come, problems, and totals; how many came without their working. */
function run(of: ReductionSetup, fixes: readonly Fix[], isSingle: boolean) {
  const points: unknown[] = [];
  const problems: unknown[] = [];
  const totals = createReductionTotals();
  let singles = 0;
  const reducer = createReducer(of, {
    onPoint(reduced) {
      totals.addOccupation(reduced);
      totals.addPoint(reduced.point);
      const { working } = reduced;
      points.push(structuredClone({ ...reduced.point, uncertainty: reduced.point.uncertainty }));
      if (working.base === null && of.bases.length > 0) points.push('no base');
    },
    ...(isSingle
      ? {
          onSingle(single: Parameters<typeof totals.addSingle>[0]) {
            singles += 1;
            totals.addSingle(single);
            totals.addPoint(single.point);
            points.push(structuredClone(single.point));
          },
        }
      : {}),
    onProblems: (said, refused) => problems.push([said, refused.length]),
  });
  reducer.push(fixes);
  reducer.finish();
  return { points, problems, totals: totals.take(), singles };
}

describe('points of one fix, by themselves and with their working', () => {
  it.each(Object.entries(SETUPS))('are the same: %s', (name, of) => {
    const random = seededRandom(20261130);
    const fixes = fixesOf(random, 1200);
    const { singles: none, ...general } = run(of, fixes, false);
    const { singles, ...single } = run(of, fixes, true);
    expect(none).toBe(0);
    expect(single).toStrictEqual(general);
    const isNeverSingle = name === 'with the shortest time';
    expect(singles > 8).toBe(!isNeverSingle);
    expect(singles).toBeLessThan(1200);
  });
});
