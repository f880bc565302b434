import type { GeoidModel } from '../../../core/geoid/geoid-height.js';
import { geoidStencil } from '../../../core/geoid/geoid-stencil.js';
import type { GeoidStencil } from '../../../core/geoid/geoid-stencil.js';
import { INPUT, INPUT_ANGLE, NUMBER, given, inOne, stated, together, withDecimals, worked } from './worked-lines.js';

const SUBSCRIPTS = ['₁', '₂', '₃', '₄'] as const;
/** Lagrange's weights of two, three and four nodes, of a place so many steps after the first. */
const WEIGHTS: Readonly<Record<2 | 3 | 4, readonly string[]>> = {
  2: ['1 − #', '#'],
  3: ['(# − 1)·(# − 2) / 2', '#·(2 − #)', '#·(# − 1) / 2'],
  4: ['(# − 1)·(# − 2)·(3 − #) / 6', '#·(# − 2)·(# − 3) / 2', '#·(# − 1)·(3 − #) / 2', '#·(# − 1)·(# − 2) / 6'],
};

/** A height worked out of the nodes may differ so far from what the model gives, metres: else they are not where it was read. */
const SAME_M = 1e-7;

/**
 * How a geoid height comes from the nodes around a place, degrees. Where the geoid is of another frame and is read at the place it
 * has there, only what comes out of it.
 */
export function geoidLines(
  geoid: GeoidModel,
  latitudeDeg: number,
  longitudeDeg: number,
  geoidHeightM: number,
): readonly string[] {
  const found = geoidStencil(geoid, latitudeDeg, longitudeDeg);
  if (found === null || Math.abs(heightOf(found) - geoidHeightM) > SAME_M)
    return [
      `${given('N', geoidHeightM, INPUT)} (${geoid.interpolation} between nodes, at the place in the frame of the geoid, and from there)`,
    ];
  const { southDeg, westDeg, latitudeStepDeg, longitudeStepDeg, columnsEast, rowsNorth, heightsM } = found;
  const weights = WEIGHTS[heightsM.length as 2 | 3 | 4];
  // The grid may count its longitudes from 0 to 360.
  const turns = Math.round((westDeg + columnsEast * longitudeStepDeg - longitudeDeg) / 360);
  const turned = turns === 0 ? '' : ` ${turns > 0 ? '+' : '−'} 360°`;
  const terms = SUBSCRIPTS.slice(0, heightsM.length);
  const sumOf = (row: string): string => terms.map((column) => `c${column}·N${row}${column}`).join(' + ');
  const step = withDecimals(NUMBER, 9);
  return [
    `${geoid.interpolation} between nodes, that of the south-west and the steps: ${together(
      stated('φ_s', southDeg, INPUT_ANGLE),
      stated('λ_w', westDeg, INPUT_ANGLE),
      stated('Δφ', latitudeStepDeg, INPUT_ANGLE),
      stated('Δ_λ', longitudeStepDeg, INPUT_ANGLE),
    )}`,
    ...heightsM.map((row, at) =>
      inOne(
        row.map((height, column) =>
          stated(`N${String(SUBSCRIPTS[at])}${String(SUBSCRIPTS[column])}`, height, INPUT, 4),
        ),
      ),
    ),
    together(
      worked('u', `(λ − λ_w${turned}) / Δ_λ`, columnsEast, step),
      worked('v', '(φ − φ_s) / Δφ', rowsNorth, step),
    ),
    inOne(
      weights.map((formula, at) =>
        worked(
          `c${String(SUBSCRIPTS[at])}`,
          formula.replaceAll('#', 'u'),
          weightOf(heightsM.length, at, columnsEast),
          step,
        ),
      ),
    ),
    inOne(
      weights.map((formula, at) =>
        worked(
          `r${String(SUBSCRIPTS[at])}`,
          formula.replaceAll('#', 'v'),
          weightOf(heightsM.length, at, rowsNorth),
          step,
        ),
      ),
    ),
    worked('N', terms.map((row) => `r${row}·(${sumOf(row)})`).join(' + '), geoidHeightM, withDecimals(INPUT, 6)),
  ];
}

/** Lagrange's weight of the node that is `at` of `count`, at `x` steps after the first. */
function weightOf(count: number, at: number, x: number): number {
  let weight = 1;
  for (let other = 0; other < count; other += 1) if (other !== at) weight *= (x - other) / (at - other);
  return weight;
}

function heightOf({ heightsM, columnsEast, rowsNorth }: GeoidStencil): number {
  const count = heightsM.length;
  return heightsM.reduce(
    (total, row, north) =>
      total +
      weightOf(count, north, rowsNorth) *
        row.reduce((sum, height, east) => sum + weightOf(count, east, columnsEast) * height, 0),
    0,
  );
}
