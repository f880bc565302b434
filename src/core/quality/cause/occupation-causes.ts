import { RADIANS_PER_DEGREE } from '../../numeric/angle-units.js';
import { usualPoleStep } from '../usual-pole-step.js';
import type { CauseContext } from './cause-context.js';
import type { CausePoint } from './cause-day.js';
import type { CauseEstimate, CauseModel } from './cause-model.js';
import { fitWhitened } from './whitener.js';

/** Largest slip of a pole that is believed, metres. */
const LARGEST_POLE_SLIP_M = 2.5;
/** Pole length used where none is stated, metres. An assumption; it matters only for the drop of a lean. */
const USUAL_POLE_M = 2;
const LARGEST_LEAN_DEG = 30;
/** Longest run of occupations that one initialisation may spoil. */
const LONGEST_RUN = 20;
/** Offsets of one initialisation beyond this are another kind of mistake, metres. */
const LARGEST_INTEGER_SLIP_M = 5;

/** Causes in single occupations or runs of them: pole, initialisation, another point, a lean. */
export function occupationCauses(context: CauseContext): readonly CauseModel[] {
  const order = timeOrder(context);
  return [...poleModels(context, order), ...integerModels(context, order), ...misidentifiedModels(context), ...tiltModels(context)];
}

/** Indexes of the points by time; in the order of the file where any time is not stated. */
function timeOrder({ day }: CauseContext): readonly number[] {
  const indexes = day.points.map((_, index) => index);
  const middles = day.points.map((point) => point.middleMs).filter((middle) => middle !== null);
  if (middles.length !== indexes.length) return indexes;
  return indexes.sort((a, b) => (middles[a] as number) - (middles[b] as number) || a - b);
}

/** Index of a point's observation on an axis; −1 where it has none. */
function observationOf({ list }: CauseContext, point: number, axis: number): number {
  const end = list.startOf[point + 1] as number;
  for (let i = list.startOf[point] as number; i < end; i += 1) if (list.axisOf[i] === axis) return i;
  return -1;
}

/** Whitened columns of one axis, summed over the points of `order` up to each place: sums[j] holds the first j. */
function runningSums(context: CauseContext, order: readonly number[], axis: number): readonly Float64Array[] {
  const { size } = context.whitener;
  const sums = [new Float64Array(size)];
  for (const point of order) {
    const next = Float64Array.from(sums[sums.length - 1] as Float64Array);
    const index = observationOf(context, point, axis);
    if (index >= 0) {
      const column = context.whitener.column(index);
      for (let i = 0; i < size; i += 1) next[i] = (next[i] as number) + (column[i] as number);
    }
    sums.push(next);
  }
  return sums;
}

function between(sums: readonly Float64Array[], from: number, to: number): Float64Array {
  const before = sums[from] as Float64Array;
  return (sums[to] as Float64Array).map((value, i) => value - (before[i] as number));
}

const isZero = (column: Float64Array): boolean => column.every((value) => value === 0);

function name({ day }: CauseContext, point: number): string {
  const at = day.points[point] as CausePoint;
  return at.occupation === '' ? at.pointId : `${at.pointId}@${at.occupation}`;
}

function poleModels(context: CauseContext, order: readonly number[]): readonly CauseModel[] {
  if (!context.hasVertical || order.length < 2) return [];
  const sums = runningSums(context, order, 2);
  const n = order.length;
  const isTimed = context.day.points.every((point) => point.middleMs !== null);
  const logged = context.day.points.flatMap(({ poleLengthM }) => poleLengthM ?? []);
  const read = ([height = 0]: readonly number[], [sigma = 0]: readonly number[]): readonly CauseEstimate[] | null => {
    if (Math.abs(height) > LARGEST_POLE_SLIP_M) return null;
    const step = usualPoleStep(height, sigma, logged);
    return [{ name: 'too_high', value: height, sigma, unit: 'm' }, ...(step === null ? [] : [{ name: 'a_usual_step_of_poles', value: step, sigma: null, unit: 'm' as const }])];
  };
  const form = (from: number, to: number, subject: string, choices: number): CauseModel => ({ cause: 'pole-length', subject, fixed: null, columns: [between(sums, from, to)], isWhitened: true, choices, read });
  const models = order.map((point, place) => form(place, place + 1, name(context, point), 3 * n));
  if (isTimed) {
    for (let place = 1; place < n; place += 1) {
      models.push(form(place, n, `from ${name(context, order[place] as number)} on`, 3 * n));
      models.push(form(0, place, `up to ${name(context, order[place - 1] as number)}`, 3 * n));
    }
  }
  return models.filter((model) => !isZero(model.columns[0] as Float64Array));
}

function integerModels(context: CauseContext, order: readonly number[]): readonly CauseModel[] {
  if (!context.hasHorizontal || order.length < 2) return [];
  const n = order.length;
  const isTimed = context.day.points.every((point) => point.middleMs !== null);
  const longest = isTimed ? Math.max(1, Math.min(LONGEST_RUN, Math.floor(n / 2))) : 1;
  const sums = [0, 1, 2].map((axis) => runningSums(context, order, axis));
  const baseOf = (place: number): string | null => (context.day.points[order[place] as number] as CausePoint).baseId;
  const models: CauseModel[] = [];
  for (let from = 0; from < n; from += 1) {
    for (let to = from + 1; to <= Math.min(n, from + longest); to += 1) {
      if (baseOf(to - 1) !== baseOf(from)) break;
      const columns = sums.map((sum) => between(sum, from, to)).filter((column) => !isZero(column));
      if (columns.length < 2) continue;
      const last = name(context, order[to - 1] as number);
      const first = name(context, order[from] as number);
      models.push({
        cause: 'wrong-integer',
        subject: to - from === 1 ? first : `from ${first} to ${last}`,
        fixed: null,
        columns,
        isWhitened: true,
        choices: n * longest,
        read: (values, sigmas) => (Math.hypot(...values) > LARGEST_INTEGER_SLIP_M ? null : ['east', 'north', 'up'].slice(0, values.length).map((axis, i) => ({ name: axis, value: values[i] as number, sigma: sigmas[i] as number, unit: 'm' }))),
      });
    }
  }
  return models;
}

function misidentifiedModels(context: CauseContext): readonly CauseModel[] {
  const { day, whitener } = context;
  if (!context.hasHorizontal) return [];
  const others = new Map(day.points.filter((point) => point.knownFirstM !== null).map((point) => [point.pointId, point]));
  const choices = day.points.length * Math.max(1, others.size - 1);
  const models: CauseModel[] = [];
  day.points.forEach((point, index) => {
    if (point.knownFirstM === null || point.knownSecondM === null) return;
    // Only a control near where the measurement lies can be the one occupied.
    for (const other of others.values()) {
      if (other.pointId === point.pointId || other.knownFirstM === null || other.knownSecondM === null) continue;
      const offsets = [day.axisSign * (other.knownFirstM - point.knownFirstM), day.axisSign * (other.knownSecondM - point.knownSecondM), (other.knownHeightM ?? 0) - (point.knownHeightM ?? 0)] as const;
      const away = Math.hypot(offsets[0] - (point.eastM ?? 0), offsets[1] - (point.northM ?? 0));
      if (away > 0.5 * Math.hypot(offsets[0], offsets[1])) continue;
      const fixed = new Float64Array(whitener.size);
      offsets.forEach((offset, axis) => {
        const at = observationOf(context, index, axis);
        if (at < 0) return;
        const column = whitener.column(at);
        for (let i = 0; i < fixed.length; i += 1) fixed[i] = (fixed[i] as number) + offset * (column[i] as number);
      });
      models.push({
        cause: 'misidentified',
        subject: `${name(context, index)} is ${other.pointId}`,
        fixed,
        columns: [],
        isWhitened: true,
        choices,
        read: () => [{ name: 'apart', value: Math.hypot(offsets[0], offsets[1]), sigma: null, unit: 'm' }],
      });
    }
  });
  return models;
}

function tiltModels(context: CauseContext): readonly CauseModel[] {
  if (!context.hasHorizontal) return [];
  const { day, whitener, values } = context;
  const models: CauseModel[] = [];
  day.points.forEach((point, index) => {
    const [east, north, up] = [0, 1, 2].map((axis) => observationOf(context, index, axis)) as [number, number, number];
    if (east < 0 || north < 0) return;
    const poleM = point.poleLengthM ?? USUAL_POLE_M;
    const columns = [whitener.column(east), whitener.column(north)];
    const lean = fitWhitened(values, columns);
    if (lean === null) return;
    const leanM = Math.hypot(lean.estimates[0] as number, lean.estimates[1] as number);
    if (leanM > poleM * Math.sin(LARGEST_LEAN_DEG * RADIANS_PER_DEGREE)) return;
    const dropM = poleM - Math.sqrt(poleM * poleM - leanM * leanM);
    const fixed = up < 0 ? null : whitener.column(up).map((value) => -dropM * value);
    models.push({
      cause: 'tilt',
      subject: name(context, index),
      fixed,
      columns,
      isWhitened: true,
      choices: day.points.length,
      read: ([e = 0, n = 0], [sigmaE = 0, sigmaN = 0]) => {
        const offset = Math.hypot(e, n);
        if (offset >= poleM) return null;
        return [
          { name: 'lean', value: Math.asin(offset / poleM) / RADIANS_PER_DEGREE, sigma: null, unit: 'deg' },
          { name: 'east', value: e, sigma: sigmaE, unit: 'm' },
          { name: 'north', value: n, sigma: sigmaN, unit: 'm' },
        ];
      },
    });
  });
  return models;
}
