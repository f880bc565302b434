import { RADIANS_PER_DEGREE } from '../core/numeric/angle-units.js';
import { median } from '../core/numeric/median.js';
import { middleMs, RECORDING_VARIANCE_M2 } from '../core/observation/occupation-estimate.js';
import type { OccupationEstimate } from '../core/observation/occupation-estimate.js';
import type { ContrastedPoint } from '../core/quality/noisy-day.js';
import type { BaselineContrast } from '../core/quality/stand-contrasts.js';
import type { CheckRow, CheckSetup } from './check-tolerances-setup.js';
import { baseOf, standEstimate } from './check-tolerances-stands.js';

/** Other control from the same mark without which there is no middle to speak of. */
const LEAST_OTHERS = 4;
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
    if (row.check !== 'control' || measured === null || row.covariance === null || seen.has(row.pointId) || baseOf(measured, setup) === undefined) continue;
    seen.add(row.pointId);
    const estimate = standEstimate(measured, measured, setup, 'none', 0);
    if (estimate.markKey === null || estimate.baselineM === null) continue;
    const group = marks.get(estimate.markKey) ?? [];
    marks.set(estimate.markKey, group);
    group.push({ row, estimate });
  }
  return [...marks.values()].flatMap((group) => group.map((own): ContrastedPoint => ({ pointId: own.row.pointId, contrasts: AXES.flatMap((axis) => contrastOf(own, group, axis, setup) ?? []) })));
}

function contrastOf(own: Held, group: readonly Held[], { axis, key, of }: (typeof AXES)[number], setup: CheckSetup): BaselineContrast | null {
  const residual = of(own.row);
  const others = group.filter((other) => other !== own && of(other.row) !== null);
  if (residual === null || others.length < LEAST_OTHERS) return null;
  const share = MEDIAN_SHARE / others.length;
  const whole = (part: (held: Held) => number): number => part(own) + (share * others.reduce((sum, other) => sum + part(other), 0)) / others.length;
  const { row, estimate } = own;
  const constant = Math.max(0, estimate.correlated[key]);
  const growing = Math.max(0, estimate.baseline[key]);
  const times = setup.precision.at(estimate.baselineM ?? 0, null);
  const known = ({ row: { known, heightKind } }: Held): number => (axis === 'up' ? (known?.row.sigmaVerticalM ?? 0) ** 2 + (heightKind === 'orthometric' ? (setup.geoidSigmaM ?? 0) ** 2 : 0) : (known?.row.sigmaHorizontalM ?? 0) ** 2);
  return {
    axis,
    baselineM: estimate.baselineM ?? 0,
    differenceM: residual - median(others.map((other) => of(other.row) ?? 0)),
    constantM2: whole((held) => Math.max(0, held.estimate.correlated[key])),
    growingM2: whole((held) => Math.max(0, held.estimate.baseline[key])),
    otherM2: whole((held) => Math.max(0, held.estimate.independent[key]) + held.estimate.setup[key] + known(held)) + RECORDING_VARIANCE_M2,
    tauS: axis === 'up' ? times.correlationVerticalS : times.correlationHorizontalS,
    stands: [{ stand: { markKey: estimate.markKey ?? '', azimuthRad: row.vector?.azimuthDeg == null ? null : row.vector.azimuthDeg * RADIANS_PER_DEGREE, middleMs: estimate.startMs === null ? null : middleMs(estimate) }, share: 1, constantM: Math.sqrt(constant), growingM: Math.sqrt(growing) }],
  };
}
