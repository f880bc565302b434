import { DEGREES_PER_RADIAN } from '../../../numeric/angle-units.js';
import type { CauseContext } from '../cause-context.js';
import type { CauseDay, CausePoint } from '../cause-day.js';
import type { CauseModel } from '../cause-model.js';
import { gridPattern } from '../observation-list.js';

/** Constants are left off in whole thousands of the grid's unit, leading digits in whole hundreds of thousands. Common practice, no published source. */
const CONSTANT_UNITS = 1000;
const LEADING_UNITS = 100_000;
/** Ways in which digits are left off: of all points alike, of each its own. */
const SHORTENINGS = 2;
/** A system of its own is shifted by more than this, metres, or turned or stretched by so many sigmas. Assumptions. */
const FAR_M = 50;
const SIGNIFICANT_SIGMAS = 3;
/** A stretch below this is not a system's, ppm: the combined factor, and the atmosphere, have causes of their own. An assumption. */
const LEAST_STRETCH_PPM = 20;
/** Taken off its gain, in units of χ²: its sizes may be anything, and what has a size of its own is likelier where it fits. An assumption. */
const ANYTHING = 40;
/** Control points needed for shift, turn and scale. */
const LEAST_POINTS = 3;

type Pair = readonly [number, number];

/** Causes in the plane system of the known coordinates: digits left off, or a system of its own that is shifted, turned and stretched against the grid. */
export function systemCauses(context: CauseContext): readonly CauseModel[] {
  if (!context.hasHorizontal) return [];
  return [...shortenedModels(context), ...ownSystemModels(context)];
}

/** Measured minus known in whole steps, east and north; null where either is not compared. */
function stepsOf({ eastM, northM }: CausePoint, stepM: number): Pair | null {
  if (eastM === null || northM === null) return null;
  return [Math.round(eastM / stepM) * stepM, Math.round(northM / stepM) * stepM];
}

/** Digits left off: one constant for all points, or leading digits that are each point's own; every point lacks them, or none. */
function shortenedModels({ day, list }: CauseContext): readonly CauseModel[] {
  const models: CauseModel[] = [];
  const add = (subject: string, of: (point: CausePoint) => Pair | null, constant: Pair | null): void => {
    const fixed = gridPattern(day, list, (point) => {
      const pair = of(point);
      // Without a plan there is no residual that the pattern would meet.
      return pair === null ? { eastM: 0, northM: 0, upM: 0 } : { eastM: pair[0], northM: pair[1], upM: 0 };
    });
    if (fixed === null || fixed.every((value) => value === 0)) return;
    models.push({
      cause: 'shortened',
      subject,
      fixed,
      columns: [],
      isWhitened: false,
      choices: SHORTENINGS,
      read: () =>
        constant === null
          ? []
          : [
              { name: 'east', value: constant[0], sigma: null, unit: 'm' },
              { name: 'north', value: constant[1], sigma: null, unit: 'm' },
            ],
    });
  };
  const constants = day.points.map((point) => stepsOf(point, CONSTANT_UNITS * day.metresPerUnit));
  const known = constants.filter((pair) => pair !== null);
  const [first] = known;
  if (first !== undefined && known.every((pair) => pair[0] === first[0] && pair[1] === first[1]))
    add('one constant', () => first, first);
  const leading = LEADING_UNITS * day.metresPerUnit;
  const own = day.points.map((point) => stepsOf(point, leading)).filter((pair) => pair !== null);
  const isOnEach = ([0, 1] as const).every(
    (axis) => own.every((pair) => pair[axis] === 0) || own.every((pair) => pair[axis] !== 0),
  );
  const differ = own.some((pair) => pair[0] !== own[0]?.[0] || pair[1] !== own[0]?.[1]);
  if (isOnEach && differ) add('leading digits, of each point its own', (point) => stepsOf(point, leading), null);
  return models;
}

/**
 * A similarity of the known pairs: measured − known = t + (s R − I)(known − their middle), which is linear in the shift t, in a = s cos ω − 1 and in b = s sin ω
 * for any turn ω (positive from east to north) and scale s.
 */
function ownSystemModels({ day, list }: CauseContext): readonly CauseModel[] {
  const pairs = new Map(
    day.points.flatMap((point): readonly (readonly [string, Pair])[] =>
      point.knownFirstM === null || point.knownSecondM === null ? [] : [[point.pointId, placeOf(point, day)]],
    ),
  );
  if (pairs.size < LEAST_POINTS) return [];
  const middle = [...pairs.values()].reduce<Pair>(
    ([x, y], [east, north]) => [x + east / pairs.size, y + north / pairs.size],
    [0, 0],
  );
  const from = (of: (x: number, y: number) => Pair): Float64Array | null =>
    gridPattern(day, list, (point) => {
      if (point.knownFirstM === null || point.knownSecondM === null) return null;
      const [east, north] = placeOf(point, day);
      const [eastM, northM] = of(east - middle[0], north - middle[1]);
      return { eastM, northM, upM: 0 };
    });
  const columns = [
    from(() => [1, 0]),
    from(() => [0, 1]),
    from((x, y) => [x * 1e-6, y * 1e-6]),
    from((x, y) => [-y * 1e-6, x * 1e-6]),
  ];
  const whole = columns.filter((column) => column !== null);
  if (whole.length < columns.length) return [];
  const convergenceDeg = day.points.reduce((sum, point) => sum + point.convergenceDeg / day.points.length, 0);
  return [
    {
      cause: 'site-system',
      subject: '',
      fixed: null,
      columns: whole,
      isWhitened: false,
      choices: 1,
      implausibility: () => ANYTHING,
      read: ([east = 0, north = 0, a = 0, b = 0], [eastS = 0, northS = 0, aS = 0, bS = 0]) => {
        const isTurned = Math.abs(b) > SIGNIFICANT_SIGMAS * bS;
        const isStretched = Math.abs(a) > SIGNIFICANT_SIGMAS * aS && Math.abs(a) > LEAST_STRETCH_PPM;
        if (!isTurned && !isStretched && Math.hypot(east, north) < FAR_M) return null;
        const along = 1 + a * 1e-6;
        const across = b * 1e-6;
        const scale = Math.hypot(along, across);
        return [
          {
            name: 'turn',
            value: Math.atan2(across, along) * DEGREES_PER_RADIAN,
            sigma: turnSigma(bS, scale),
            unit: 'turn',
          },
          { name: 'scale', value: (scale - 1) * 1e6, sigma: aS, unit: 'ppm' },
          { name: 'east', value: east, sigma: eastS, unit: 'm' },
          { name: 'north', value: north, sigma: northS, unit: 'm' },
          { name: 'convergence_here', value: convergenceDeg, sigma: null, unit: 'turn' },
        ];
      },
    },
  ];
}

/** One sigma of the turn, degrees, from that of s sin ω in ppm; along and across have the same. */
function turnSigma(acrossPpm: number, scale: number): number {
  return ((acrossPpm * 1e-6) / scale) * DEGREES_PER_RADIAN;
}

/** East and north of a known pair; what is not known was left out before. */
function placeOf({ knownFirstM, knownSecondM }: CausePoint, { axisSigns }: CauseDay): Pair {
  return [axisSigns[0] * (knownFirstM as number), axisSigns[1] * (knownSecondM as number)];
}
