import { geocentricToLocal, localFrameAt } from '../../../core/ellipsoid/local-frame.js';
import type { TrendTest } from '../../../core/observation/stand-tests/trend-test.js';
import type { LocalVector } from '../../../records/points/point.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { ReportEpoch, ReportOccupation, ReportTrend } from '../../../records/reports/reduction-report.js';
import { recordAt } from '../packing/packed-records.js';
import type { ReducedOccupation } from '../reduction-working.js';
import { entryAt, present } from '../../../records/present.js';

/** An occupation as a page draws it: at most so many epochs, evenly picked; refused ones are left out only beyond half of the room. */
export function thinOccupation({ point, working }: ReducedOccupation, most: number): ReportOccupation {
  const { epochs, tests } = working;
  const startMs = epochs.at(0)?.fix.epochMs ?? null;
  const hasTimes = startMs !== null && allTimed(epochs);
  const timeOf = (index: number): number =>
    hasTimes ? ((epochs.at(index)?.fix.epochMs ?? startMs) - startMs) / 1000 : index;
  const hasMean = working.mean !== null;
  const offsetOf = offsets(working);
  const thinned = pickedIndexes(epochs, most).map((index): ReportEpoch => ({
    timeS: timeOf(index),
    offset: offsetOf(index),
    used: present(epochs.at(index), 'an epoch of the occupation').refusals.length === 0,
  }));
  const tested = testedIndexes(working);
  const trend = (test: TrendTest): ReportTrend => ({
    driftM: test.driftM,
    driftSigmaM: test.driftSigmaM,
    isDrift: test.isDrift,
    stepM: test.stepM,
    stepSigmaM: test.stepSigmaM,
    isStep: test.isStep,
    stepTimeS: test.stepAt === null ? null : timeOf(entryAt(tested, test.stepAt)),
  });
  return {
    pointId: point.pointId,
    occupation: point.occupation,
    verdict: point.verdict,
    reasons: point.reasons,
    baseId: point.baseId,
    baselineM: point.baseline?.distanceM ?? null,
    firstMs: startMs,
    hasTimes,
    hasMean,
    usedCount: point.epochsUsed,
    refusedCount: point.epochsRejected,
    refusals: countRefusals(working.epochs),
    epochCount: epochs.length,
    epochs: thinned,
    trends: tests === null ? null : { east: trend(tests.east), north: trend(tests.north), up: trend(tests.up) },
    spreadM: tests?.motion.spreadM ?? null,
    circle95M: point.summary?.circle95M ?? null,
  };
}

function allTimed(epochs: ReducedOccupation['working']['epochs']): boolean {
  for (const { fix } of epochs) if (fix.epochMs === null) return false;
  return true;
}

/** Residuals from the mean; where there is none, distances from the first epoch. */
function offsets(working: ReducedOccupation['working']): (index: number) => LocalVector {
  const nowhere = { eastM: 0, northM: 0, upM: 0 };
  if (working.mean !== null) return (index) => working.epochs.at(index)?.residual ?? nowhere;
  const first = working.reduced.at(0);
  if (first === undefined) return () => nowhere;
  const frame = localFrameAt(first.geodetic.latitudeDeg, first.geodetic.longitudeDeg);
  return (index) => {
    const tip = working.reduced.at(index)?.tip ?? first.tip;
    return geocentricToLocal(frame, {
      xM: tip.xM - first.tip.xM,
      yM: tip.yM - first.tip.yM,
      zM: tip.zM - first.tip.zM,
    });
  };
}

/** Which epochs the tests looked at, by their place in the occupation. */
function testedIndexes({ epochs, average }: ReducedOccupation['working']): readonly number[] {
  const outliersToo = average?.tooManyOutliers === true;
  const tested: number[] = [];
  for (let index = 0; index < epochs.length; index += 1) {
    const { refusals } = recordAt(epochs, index);
    if (refusals.length === 0 || (outliersToo && refusals.every((code) => code === 'epoch-outlier')))
      tested.push(index);
  }
  return tested;
}

function countRefusals(epochs: ReducedOccupation['working']['epochs']): readonly (readonly [ProblemCode, number])[] {
  const counts = new Map<ProblemCode, number>();
  for (const { refusals } of epochs) for (const code of refusals) counts.set(code, (counts.get(code) ?? 0) + 1);
  return [...counts];
}

/** Indexes of the epochs that are drawn, in their order: refused ones first, as far as half of the room, then used ones. */
function pickedIndexes(epochs: ReducedOccupation['working']['epochs'], most: number): readonly number[] {
  if (epochs.length <= most) return evenly(epochs.length, most);
  const refused: number[] = [];
  const used: number[] = [];
  for (let index = 0; index < epochs.length; index += 1)
    (recordAt(epochs, index).refusals.length === 0 ? used : refused).push(index);
  const room = Math.min(refused.length, Math.max(Math.floor(most / 2), most - used.length));
  const picked = [
    ...evenly(refused.length, room).map((at) => entryAt(refused, at)),
    ...evenly(used.length, most - room).map((at) => entryAt(used, at)),
  ];
  return picked.sort((a, b) => a - b);
}

/** At most so many of the indexes below a count, first and last among them. */
function evenly(count: number, most: number): readonly number[] {
  if (count <= most) return Array.from({ length: count }, (_, i) => i);
  return Array.from({ length: most }, (_, i) => Math.round((i * (count - 1)) / Math.max(1, most - 1)));
}
