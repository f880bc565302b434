import type { SiteAxes } from '../../../core/adjustment/site/site-axes.js';
import { toEastNorth } from '../../../core/adjustment/site/site-axes.js';
import type { PlanePoint } from '../../../core/adjustment/convex-hull.js';
import type { SiteDocument } from '../../../core/adjustment/site/site-document.js';
import { isSurface } from '../../../core/adjustment/site/site-transform.js';
import { axisSigns } from '../../../core/grid/systems/grid-axes.js';
import {
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  NUMBER,
  given,
  inForm,
  stated,
  together,
  withDecimals,
  worked,
} from '../../explain/lines/worked-lines.js';
import { DEGREES_PER_RADIAN } from '../../../core/numeric/angle-units.js';
import type { ShiftDirection } from '../../../core/frames/shifts/shift-definition.js';
import { surfaceWorking } from '../../site/surface/surface-working.js';
import type { LegWorking } from './leg-working.js';

interface Place {
  readonly first: number;
  readonly second: number;
  readonly heightM: number | null;
}

const SLOPE = withDecimals(NUMBER, 12);
const PLANE = withDecimals(LENGTH, 5);

/** A pair between the grid of a site and its own coordinates, and its height by the plane of the site. */
export function siteWorking(site: SiteDocument, direction: ShiftDirection, before: Place, after: Place): LegWorking {
  const { sourceAxes, siteAxes, transform } = site;
  const { sourceOrigin, targetOrigin, scale, rotationRad } = transform.horizontal;
  const isForward = direction === 'forward';
  const [from, to] = isForward ? [sourceAxes, siteAxes] : [siteAxes, sourceAxes];
  const [start, end] = [toEastNorth(from, before.first, before.second), toEastNorth(to, after.first, after.second)];
  const [east, north] = isForward
    ? ['E_1 + s·((e − e_0)·cos ρ − (n − n_0)·sin ρ)', 'N_1 + s·((e − e_0)·sin ρ + (n − n_0)·cos ρ)']
    : ['e_0 + ((e − E_1)·cos ρ + (n − N_1)·sin ρ) / s', 'n_0 − ((e − E_1)·sin ρ − (n − N_1)·cos ρ) / s'];
  return {
    source: null,
    title: isForward ? 'Onto the site' : 'Off the site',
    formula: isForward ? 'X = X₁ + s R(ρ) (x − x₀)' : 'x = x₀ + R(−ρ) (X − X₁) / s',
    lines: [
      together(
        given('e_0', sourceOrigin.eastM, INPUT),
        given('n_0', sourceOrigin.northM, INPUT),
        given('E_1', targetOrigin.eastM, INPUT),
        given('N_1', targetOrigin.northM, INPUT),
      ),
      together(stated('s', scale, withDecimals(NUMBER, 15)), given('ρ', rotationRad * DEGREES_PER_RADIAN, INPUT_ANGLE)),
      `${together(given('e', start.eastM, INPUT), given('n', start.northM, INPUT))}${axesNote(from)}`,
      together(worked('E', east, end.eastM, PLANE), worked('N', north, end.northM, PLANE)),
      ...pairNote(to, after),
      ...heightLines(site, isForward, isForward ? start : end, { before, after }),
    ],
  };
}

/** What the plane or the surface of the heights adds at the source place; nothing where heights are not fitted or none is known. */
function heightLines(
  { transform, heightKind }: SiteDocument,
  isForward: boolean,
  place: PlanePoint,
  { before, after }: { readonly before: Place; readonly after: Place },
): readonly string[] {
  const { vertical } = transform;
  if (vertical === null || before.heightM === null || after.heightM === null) return [];
  const [e, n] = isForward ? ['e', 'n'] : ['E', 'N'];
  const added = isForward ? after.heightM - before.heightM : before.heightM - after.heightM;
  const letter = heightKind === 'orthometric' ? 'H' : 'h';
  return [
    ...(isSurface(vertical)
      ? surfaceWorking(vertical, [e, n], place, added)
      : [
          together(
            given('e_v', vertical.origin.eastM, INPUT),
            given('n_v', vertical.origin.northM, INPUT),
            stated('c', vertical.offsetM, INPUT),
            stated('c_E', vertical.slopeEast, SLOPE),
            stated('c_N', vertical.slopeNorth, SLOPE),
          ),
          worked('δ', `c + c_E·(${e} − e_v) + c_N·(${n} − n_v)`, added, LENGTH),
        ]),
    together(
      given(`${letter}_0`, before.heightM, INPUT),
      worked(letter, `${letter}_0 ${isForward ? '+' : '−'} δ`, after.heightM, PLANE),
    ),
  ];
}

function axesNote({ columns, metresPerUnit }: SiteAxes): string {
  const [eastSign, northSign] = axisSigns(columns);
  const isPlain = eastSign > 0 && northSign > 0 && metresPerUnit === 1;
  return isPlain ? '' : ` (metres along east and north, from ${columns.join(' and ')})`;
}

function pairNote({ columns, metresPerUnit }: SiteAxes, { first, second }: Place): readonly string[] {
  const [eastSign, northSign] = axisSigns(columns);
  const minus = (sign: number): string => (sign < 0 ? '−' : '');
  const per = metresPerUnit === 1 ? '' : ' / u';
  const own = withDecimals(NUMBER, 4);
  return [
    ...(per === '' ? [] : [stated('u', metresPerUnit, withDecimals(LENGTH, 16))]),
    `${columns[0]} = ${minus(eastSign)}E${per} = ${inForm(first, own)}`,
    `${columns[1]} = ${minus(northSign)}N${per} = ${inForm(second, own)}`,
  ];
}
