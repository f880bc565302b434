import { RADIANS_PER_DEGREE } from '../../core/numeric/angle-units.js';
import { isTimed, middleMs, RECORDING_VARIANCE_M2 } from '../../core/observation/repeats/occupation-estimate.js';
import type { OccupationEstimate } from '../../core/observation/repeats/occupation-estimate.js';
import type { ContrastedPoint } from '../../core/quality/day/noisy-day.js';
import type { BaselineContrast, ContrastedStand } from '../../core/quality/day/stand-contrasts.js';
import type { CheckRow, CheckSetup } from '../check/judge/check-tolerances-setup.js';
import { baseOf, standEstimate } from '../check/compare/check-tolerances-stands.js';
import { present } from '../../records/present.js';

/** Other control from the same mark without which there is no middle to speak of. */
const LEAST_OTHERS = 4;
/** The share of the one occupation of a point in its contrasts. */
const WHOLE: readonly number[] = Object.freeze([1]);
/** Variance of a median of many normal values over that of their mean (textbook). */
const MEDIAN_SHARE = Math.PI / 2;

const AXES = [
  { axis: 'east', key: 'eeM2', of: ({ firstM }: CheckRow): number | null => firstM },
  { axis: 'north', key: 'nnM2', of: ({ secondM }: CheckRow): number | null => secondM },
  { axis: 'up', key: 'uuM2', of: ({ upM }: CheckRow): number | null => upM },
] as const;

interface Held {
  readonly row: CheckRow;
  readonly estimate: OccupationEstimate;
}

/**
 * What control says of the precision of the day: the residual of each point, by its first occupation, less the median of those of the other control from the
 * same base mark. What is common to the base falls out, and one wrong point hardly moves the others. Repeats of control say the rest as repeats.
 *
 * Given: checks of control; the setup. Returned: contrasts by point, none of points whose set-up is not known or with fewer than four others. The error of the
 * control, poles and the geoid are in what no factor multiplies.
 *
 * Reference: common practice, no published source.
 */
export function controlContrasts(rows: Iterable<CheckRow>, setup: CheckSetup): readonly ContrastedPoint[] {
  if (setup.bases.length === 0) return [];
  const seen = new Set<string>();
  const marks = new Map<string, Held[]>();
  for (const row of rows) {
    const { measured } = row;
    if (
      row.check !== 'control' ||
      measured === null ||
      row.covariance === null ||
      seen.has(row.pointId) ||
      baseOf(measured, setup) === undefined
    )
      continue;
    seen.add(row.pointId);
    const estimate = standEstimate(measured, measured, setup, 'none', 0);
    if (estimate.markKey === null || estimate.baselineM === null) continue;
    const group = marks.get(estimate.markKey) ?? [];
    marks.set(estimate.markKey, group);
    group.push({ row, estimate });
  }
  return [...marks.values()].flatMap((group) => {
    const middles = AXES.map((axis) => ({ axis, all: axisOf(group, axis, setup) }));
    return group.map((own): ContrastedPoint => {
      const stands = [contrastedStand(own, setup)];
      return {
        pointId: own.row.pointId,
        contrasts: middles.flatMap(({ axis, all }) => {
          const contrast = contrastOf(own, all, axis, setup);
          return contrast === null ? [] : { ...contrast, stands, shares: WHOLE };
        }),
      };
    });
  });
}

type Axis = (typeof AXES)[number];

/** The variances of one occupation along one axis, m²: without growth, growing with the baseline, and all that no factor multiplies. */
interface Parts {
  readonly constantM2: number;
  readonly growingM2: number;
  readonly otherM2: number;
}

/** The occupations of one mark that have a residual along one axis. */
interface AxisGroup {
  /** Residuals, least first, metres. */
  readonly sorted: Float64Array;
  readonly sums: Parts;
}

function axisOf(group: readonly Held[], axis: Axis, setup: CheckSetup): AxisGroup {
  const held = group.filter(({ row }) => axis.of(row) !== null);
  const sums = { constantM2: 0, growingM2: 0, otherM2: 0 };
  for (const own of held) {
    const parts = partsOf(own, axis, setup);
    sums.constantM2 += parts.constantM2;
    sums.growingM2 += parts.growingM2;
    sums.otherM2 += parts.otherM2;
  }
  return {
    sorted: Float64Array.from(held, ({ row }) => present(axis.of(row), 'a residual along the axis')).sort(),
    sums,
  };
}

function partsOf({ row: { known, heightKind }, estimate }: Held, { axis, key }: Axis, setup: CheckSetup): Parts {
  const controlM2 =
    axis === 'up'
      ? // Not stated: it adds nothing, and the summary says what is missing.
        (known?.row.sigmaVerticalM ?? 0) ** 2 + (heightKind === 'orthometric' ? (setup.geoidSigmaM ?? 0) ** 2 : 0)
      : // Not stated: it adds nothing, and the summary says what is missing.
        (known?.row.sigmaHorizontalM ?? 0) ** 2;
  return {
    constantM2: Math.max(0, estimate.correlated[key]),
    growingM2: Math.max(0, estimate.baseline[key]),
    otherM2: Math.max(0, estimate.independent[key]) + estimate.setup[key] + controlM2,
  };
}

function contrastOf(
  own: Held,
  { sorted, sums }: AxisGroup,
  axis: Axis,
  setup: CheckSetup,
): Omit<BaselineContrast, 'stands' | 'shares'> | null {
  const { row, estimate } = own;
  const residual = axis.of(row);
  const others = sorted.length - 1;
  if (residual === null || others < LEAST_OTHERS) return null;
  const parts = partsOf(own, axis, setup);
  const share = MEDIAN_SHARE / others;
  const whole = (part: keyof Parts): number => parts[part] + (share * Math.max(0, sums[part] - parts[part])) / others;
  // No baseline is known: the part of the model that does not grow with it.
  const times = setup.precision.at(estimate.baselineM ?? 0, null);
  return {
    axis: axis.axis,
    // No baseline is known: the part of the model that does not grow with it.
    baselineM: estimate.baselineM ?? 0,
    differenceM: residual - medianWithout(sorted, residual),
    constantM2: whole('constantM2'),
    growingM2: whole('growingM2'),
    otherM2: whole('otherM2') + RECORDING_VARIANCE_M2,
    tauS: axis.axis === 'up' ? times.correlationVerticalS : times.correlationHorizontalS,
  };
}

function contrastedStand(own: Held, setup: CheckSetup): ContrastedStand {
  const { row, estimate } = own;
  const [east, north, up] = [partsOf(own, AXES[0], setup), partsOf(own, AXES[1], setup), partsOf(own, AXES[2], setup)];
  return {
    markKey: present(estimate.markKey, 'the mark of an occupation that is compared'),
    azimuthRad: row.vector?.azimuthDeg == null ? null : row.vector.azimuthDeg * RADIANS_PER_DEGREE,
    middleMs: isTimed(estimate) ? middleMs(estimate) : null,
    constantM: [Math.sqrt(east.constantM2), Math.sqrt(north.constantM2), Math.sqrt(up.constantM2)],
    growingM: [Math.sqrt(east.growingM2), Math.sqrt(north.growingM2), Math.sqrt(up.growingM2)],
  };
}

/** The median of sorted values without one of them. */
function medianWithout(sorted: Float64Array, value: number): number {
  let [low, high] = [0, sorted.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle] as number) < value) low = middle + 1;
    else high = middle;
  }
  const at = (place: number): number => sorted[place < low ? place : place + 1] as number;
  const others = sorted.length - 1;
  return others % 2 === 1 ? at((others - 1) / 2) : 0.5 * (at(others / 2 - 1) + at(others / 2));
}
