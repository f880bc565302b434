import { median } from '../../../core/numeric/median.js';
import type { FinishedRun } from '../../../records/runs/finished-run.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import type { LargestFigure } from '../../../records/runs/run-summary.js';
import { gravestAnswer } from '../../../core/quality/gravest-answer.js';
import type { RunChange } from './compare-runs.js';

/** How all points moved together. Metres, true axes. */
export interface CommonMovement {
  readonly eastM: number;
  readonly northM: number;
  /** Null: no heights were compared. */
  readonly upM: number | null;
  /** The farthest that a point lies from it in plan, and in height. */
  readonly leftHorizontalM: number;
  readonly leftVerticalM: number | null;
}

/** A comparison in short. */
export interface ComparisonSummary {
  readonly compared: number;
  readonly counts: Readonly<Record<RunChange['change'], number>>;
  readonly verdictChanged: number;
  readonly sameObservations: number;
  readonly unknownSetups: number;
  readonly largest: readonly LargestFigure[];
  readonly common: CommonMovement | null;
}

/** Sums up a comparison. The common movement is the median of each axis: few points that moved alone do not pull it. */
export function comparisonSummary(changes: readonly RunChange[]): ComparisonSummary {
  const counts = { kept: 0, undecided: 0, moved: 0, appeared: 0, vanished: 0 };
  for (const { change } of changes) counts[change] += 1;
  const compared = changes.filter(({ observations }) => observations !== null);
  return {
    compared: compared.length,
    counts,
    verdictChanged: changes.filter(({ reasons }) => reasons.includes('run-verdict-changed')).length,
    sameObservations: compared.filter(({ observations }) => observations === 'same').length,
    unknownSetups: compared.filter(({ hasUnknownSetup }) => hasUnknownSetup).length,
    largest: largestMovements(compared),
    common: commonMovement(compared),
  };
}

/** The answer: no where anything moved beyond, review where anything else changed that a person should see. */
export function comparisonAnswer(changes: readonly RunChange[]): RunAnswer {
  const verdicts = new Map([
    ['within', 0],
    ['review', 0],
    ['no', 0],
  ]);
  const reasons = new Map<string, number>();
  for (const { verdict, reasons: codes } of changes) {
    verdicts.set(verdict, (verdicts.get(verdict) ?? 0) + 1);
    for (const code of codes) reasons.set(code, (reasons.get(code) ?? 0) + 1);
  }
  return { answer: gravestAnswer(changes.map(({ verdict }) => verdict)), verdicts, reasons };
}

function largestMovements(compared: readonly RunChange[]): readonly LargestFigure[] {
  const figures = new Map<string, LargestFigure>();
  const add = (figure: string, value: number, at: string): void => {
    if (value > (figures.get(figure)?.value ?? -1)) figures.set(figure, { figure, value, at });
  };
  for (const { pointId, eastM, northM, upM } of compared) {
    if (eastM !== null && northM !== null) add('horizontal_difference_m', Math.hypot(eastM, northM), pointId);
    if (upM !== null) add('vertical_difference_m', Math.abs(upM), pointId);
  }
  return [...figures.values()];
}

function commonMovement(compared: readonly RunChange[]): CommonMovement | null {
  const known = (values: readonly (number | null)[]): readonly number[] => values.filter((value) => value !== null);
  const east = known(compared.map(({ eastM }) => eastM));
  const north = known(compared.map(({ northM }) => northM));
  const up = known(compared.map(({ upM }) => upM));
  if (east.length === 0 || north.length === 0) return null;
  const [eastM, northM, upM] = [median(east), median(north), up.length === 0 ? null : median(up)];
  let leftHorizontalM = 0;
  for (const [index, value] of east.entries())
    leftHorizontalM = Math.max(leftHorizontalM, Math.hypot(value - eastM, (north[index] ?? northM) - northM));
  let leftVerticalM = upM === null ? null : 0;
  for (const value of up)
    if (upM !== null && leftVerticalM !== null) leftVerticalM = Math.max(leftVerticalM, Math.abs(value - upM));
  return { eastM, northM, upM, leftHorizontalM, leftVerticalM };
}

/** A setting, program or input that two runs do not share. */
export interface RunDifference {
  readonly key: string;
  /** Null: not set. */
  readonly before: string | null;
  readonly after: string | null;
}

/** What differs between two runs by their records: program, settings by key, inputs by kind. */
export function runDifferences(before: FinishedRun, after: FinishedRun): readonly RunDifference[] {
  const found: RunDifference[] = [];
  const add = (key: string, a: string | null, b: string | null): void => {
    if (a !== b) found.push({ key, before: a, after: b });
  };
  add('tool_version', before.toolVersion, after.toolVersion);
  for (const key of [...new Set([...before.settings.keys(), ...after.settings.keys()])].sort())
    add(key, before.settings.get(key) ?? null, after.settings.get(key) ?? null);
  const digests = ({ inputs }: FinishedRun, kind: string): string =>
    inputs.flatMap((input) => (input.kind === kind ? [`${input.name} ${input.sha256.slice(0, 12)}`] : [])).join(', ');
  for (const kind of new Set([...before.inputs, ...after.inputs].map((input) => input.kind)))
    add(`input ${kind}`, digests(before, kind), digests(after, kind));
  return found;
}
