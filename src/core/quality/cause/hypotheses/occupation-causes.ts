import { usualPoleStep } from '../../usual-pole-step.js';
import type { CauseContext } from '../cause-context.js';
import type { CausePoint } from '../cause-day.js';
import type { CauseEstimate, CauseModel } from '../cause-model.js';
import { leanCauses } from './lean-causes.js';
import { between, isZero, offsetsAt, runningSums, standName, standOf, timeOrder } from '../stand-columns.js';

/** Largest slip of a pole that is believed, metres. */
const LARGEST_POLE_SLIP_M = 2.5;
/** Longest run of occupations that one initialisation may spoil. */
const LONGEST_RUN = 20;
/** Offsets of one initialisation beyond this are another kind of mistake, metres. */
const LARGEST_INTEGER_SLIP_M = 5;

/** Causes in single occupations or runs of them: pole, initialisation, another point, a lean. */
export function occupationCauses(context: CauseContext): readonly CauseModel[] {
  const order = timeOrder(context);
  return [
    ...poleModels(context, order),
    ...integerModels(context, order),
    ...misidentifiedModels(context),
    ...leanCauses(context),
  ];
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
    return [
      { name: 'too_high', value: height, sigma, unit: 'm' },
      ...(step === null ? [] : [{ name: 'a_usual_step_of_poles', value: step, sigma: null, unit: 'm' as const }]),
    ];
  };
  const form = (from: number, to: number, subject: string, choices: number): CauseModel => ({
    cause: 'pole-length',
    subject,
    fixed: null,
    columns: [between(sums, from, to)],
    isWhitened: true,
    choices,
    stand: to - from === 1 ? standOf(context, order[from] as number) : null,
    read,
  });
  const models = order.map((point, place) => form(place, place + 1, standName(context, point), 3 * n));
  if (isTimed) {
    for (let place = 1; place < n; place += 1) {
      models.push(form(place, n, `from ${standName(context, order[place] as number)} on`, 3 * n));
      models.push(form(0, place, `up to ${standName(context, order[place - 1] as number)}`, 3 * n));
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
      const last = standName(context, order[to - 1] as number);
      const first = standName(context, order[from] as number);
      models.push({
        cause: 'wrong-integer',
        subject: to - from === 1 ? first : `from ${first} to ${last}`,
        fixed: null,
        columns,
        isWhitened: true,
        // Half for single occupations, half for runs of them: one wrong initialisation is mostly one occupation.
        choices: longest === 1 ? n : to - from === 1 ? 2 * n : 2 * n * (longest - 1),
        stand: to - from === 1 ? standOf(context, order[from] as number) : null,
        read: (values, sigmas) =>
          values.reduce((length, value) => Math.hypot(length, value), 0) > LARGEST_INTEGER_SLIP_M
            ? null
            : ['east', 'north', 'up']
                .slice(0, values.length)
                .map((axis, i) => ({ name: axis, value: values[i] as number, sigma: sigmas[i] as number, unit: 'm' })),
      });
    }
  }
  return models;
}

function misidentifiedModels(context: CauseContext): readonly CauseModel[] {
  const { day } = context;
  if (!context.hasHorizontal) return [];
  const others = new Map(
    day.points.filter((point) => point.knownFirstM !== null).map((point) => [point.pointId, point]),
  );
  const choices = day.points.length * Math.max(1, others.size - 1);
  const models: CauseModel[] = [];
  day.points.forEach((point, index) => {
    if (point.knownFirstM === null || point.knownSecondM === null) return;
    // Only a control near where the measurement lies can be the one occupied.
    for (const other of others.values()) {
      if (other.pointId === point.pointId || other.knownFirstM === null || other.knownSecondM === null) continue;
      const offsets = [
        day.axisSigns[0] * (other.knownFirstM - point.knownFirstM),
        day.axisSigns[1] * (other.knownSecondM - point.knownSecondM),
        // A height or a residual that is not known is no difference.
        (other.knownHeightM ?? 0) - (point.knownHeightM ?? 0),
      ] as const;
      // A height or a residual that is not known is no difference.
      const away = Math.hypot(offsets[0] - (point.eastM ?? 0), offsets[1] - (point.northM ?? 0));
      if (away > 0.5 * Math.hypot(offsets[0], offsets[1])) continue;
      const fixed = offsetsAt(context, [index], offsets);
      models.push({
        cause: 'misidentified',
        subject: `${standName(context, index)} is ${other.pointId}`,
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
