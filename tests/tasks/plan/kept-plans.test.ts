import { describe, expect, it } from 'vitest';
import { explainPlan } from '../../../src/tasks/plan/explain-plan.js';
import type { PlannedTarget } from '../../../src/tasks/plan/targets/predict-targets.js';
import type { PlanSetup, PlanTarget } from '../../../src/tasks/plan/targets/plan-target.js';
import { startPlan } from '../../../src/tasks/plan/run-plan.js';
import type { PlanRequest } from '../../../src/tasks/plan/run-plan.js';
import { valueOf } from '../../core/grid/systems.js';
import { keptRecord } from '../../support/kept-record.js';
import { candidate, choice, setupOf, target } from './plan-fixture.js';

// Regression, kept whole: plans of invented targets from bases that are given, free, the best, two of many and as few as do.
// Whether places and figures are right is what the tests of tests/core/planning hold.

const BASE = { id: 'base', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000 };
const TARGETS: readonly PlanTarget[] = [
  target('near', -31.5, 21.42, { ellipsoidalHeightM: 1010 }),
  target('low', -31.62, 21.5, { ellipsoidalHeightM: 400, toleranceVerticalM: 0.06 }),
  target('plan alone', -31.4, 21.2, { toleranceVerticalM: null }),
  target('height alone', -31.45, 21.6, { toleranceHorizontalM: null, toleranceVerticalM: 0.08 }),
  target('far', -31.5, 22.2),
  target('strict', -31.55, 21.45, { toleranceHorizontalM: 0.01, toleranceVerticalM: 0.01 }),
  target('wide', -31.9, 21.9, { toleranceHorizontalM: 0.3, toleranceVerticalM: 0.6 }),
];
const PLACES = [
  candidate('W', -31.5, 21.3, { cellular: true, skyScore: 0.9, cost: 5 }),
  candidate('E', -31.5, 21.9, { cellular: true, skyScore: 0.8, cost: 2 }),
  candidate('S', -31.8, 21.6, { cellular: false, skyScore: 0.95, cost: 1, ellipsoidalHeightM: 1200 }),
  candidate('N', -31.3, 21.5, { cellular: true, skyScore: 0.4, cost: 9 }),
];
const demands = { cellular: true, minSkyScore: 0.5, maxCost: 6 };
const DAY: PlanRequest['day'] = {
  settings: {
    ...{ dayCount: 2, startS: 3600, latestEndS: null, baseSetupS: 1800, overheadS: 180, controlOccupationS: 180 },
    ...{ averageSpeedKmh: 50, detourFactor: 1.3 },
  },
  control: [],
  windows: null,
};
const STREAM: PlanRequest['stream'] = {
  ...{ kind: 'msm7', constellations: [{ name: 'gps', satellites: 10, signals: 2 }], rateHz: 1, hours: 8, rovers: 2 },
};
const given = { kind: 'given', base: BASE } as const;
const prediction = setupOf(given).prediction;

const PLANS: Readonly<Record<string, readonly [PlanSetup, Partial<PlanRequest>]>> = {
  'a base that is given': [setupOf(given), { stream: STREAM, day: DAY }],
  'a base that may be wrong, on an active day': [
    setupOf(given, { baseErrorM: 30, conditions: 'active' }),
    { rowsRejected: 2 },
  ],
  'many epochs, no sigma of the base, a geoid': [
    setupOf(given, {
      prediction: {
        ...prediction,
        ...{ baseSigmaHorizontalM: null, baseSigmaVerticalM: null, geoidSigmaM: 0.02, epochCount: 30 },
        pole: { ...prediction.pole, tiltDeg: 5, tiltAzimuthDeg: 20, convention: 'top-from-tip' },
      },
      limits: { separationS: 7200, minEpochs: 10, maxEpochs: 60, maxOccupations: 2 },
    }),
    { time: { startMs: Date.UTC(2025, 7, 2, 6), month: null } },
  ],
  'a base that is free': [setupOf({ kind: 'free' }), {}],
  'the best of four': [setupOf({ kind: 'best', ...choice(PLACES) }), {}],
  'the best that meets demands': [setupOf({ kind: 'best', ...choice(PLACES, { demands, tieFraction: 0.2 }) }), {}],
  'two of four': [setupOf({ kind: 'k', k: 2, ...choice(PLACES) }), { day: DAY }],
  'as few as do': [setupOf({ kind: 'fewest', ...choice(PLACES) }), { time: { startMs: null, month: 7 } }],
  'no tolerance that can be met': [setupOf({ kind: 'free' }), { targets: TARGETS.slice(5, 6) }],
};
/** Of these every figure is kept, of the others what decides. */
const WHOLE = ['a base that is given', 'many epochs, no sigma of the base, a geoid'];
const LEFT_OUT = ['passThrough', 'geodesic', 'setup'];

/** With the occupations that are worked out only where they are asked for. */
function withOptions(planned: PlannedTarget): unknown {
  const { remedy } = planned;
  const { occupations } = remedy;
  return { ...planned, remedy: { ...remedy, occupations: { ...occupations, options: occupations.options() } } };
}

describe('a plan, as it was', () => {
  it.each(Object.entries(PLANS))('%s', async (name, [setup, more]) => {
    const run = startPlan({
      ...{
        setup,
        targets: TARGETS,
        rowsRejected: 0,
        time: { startMs: null, month: null },
        hours: 8,
        day: null,
        stream: null,
      },
      ...more,
    });
    const { placed, ranges, predicted, end } = valueOf(run);
    const planned = [...predicted()];
    const { totals, ...ended } = valueOf(end());
    const sums = {
      ...{ withinBy: totals.withinBy, ways: totals.ways, reasons: totals.reasons, bases: totals.bases },
      ...{ targets: totals.targets(), outside: totals.outside(), workPoints: totals.workPoints() },
      ...{ withoutHeight: totals.withoutHeight(), mean: totals.meanBaselineM(), longest: totals.longestBaselineM() },
      ...{ worst: totals.worst().map((one) => one.target.id), reobserve: totals.reobserve() },
    };
    const isWhole = WHOLE.includes(name);
    const record = {
      planned: isWhole
        ? planned.slice(0, 4).map(withOptions)
        : planned.map((one) => `${one.target.id} ${one.verdict} ${one.at.uncertainty.circle95M.toFixed(6)}`),
      ...{ placed, ranges: isWhole ? ranges : ranges.length, sums, ended, problems: run.problems },
      explained: planned.slice(0, isWhole ? 1 : 0).map((one) => explainPlan(one, setup)),
    };
    await expect(keptRecord(record, LEFT_OUT)).toMatchFileSnapshot(`./plans/${name.replaceAll(/[, ]+/gu, '-')}.txt`);
  });
});
