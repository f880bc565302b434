import { GRS80 } from '../../../core/ellipsoid/ellipsoid.js';
import { geocentricToGeodetic } from '../../../core/ellipsoid/geocentric.js';
import { DEGREES_PER_RADIAN } from '../../../core/numeric/angle-units.js';
import { plateVelocity } from '../../../core/frames/plates/plate-motion.js';
import type { PlatePole } from '../../../core/frames/plates/plate-pole.js';
import type { Motion } from '../../../core/frames/plates/point-motion.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import { AXES, componentOf } from '../../explain/lines/shift-lines.js';
import {
  INPUT_ANGLE,
  LENGTH,
  NUMBER,
  given,
  inOne,
  stated,
  together,
  withDecimals,
  worked,
} from '../../explain/lines/worked-lines.js';
import type { NumberForm } from '../../explain/lines/worked-lines.js';
import { startLine } from './leg-working.js';
import type { LegWorking } from './leg-working.js';

const SECONDS_OF_ARC: NumberForm = { unit: '″', perOne: 1, decimals: 10 };
/** A velocity is worked on with eight places; what it moves comes out to the hundredth of a millimetre in 100 years. */
const VELOCITY = withDecimals(LENGTH, 8);
const MOVED = withDecimals(LENGTH, 5);
const COMPONENTS = { X: 'xMPerYear', Y: 'yMPerYear', Z: 'zMPerYear' } as const;
/** Of a rotation: the two other axes of each. */
const TURNS = { X: ['Y', 'Z'], Y: ['Z', 'X'], Z: ['X', 'Y'] } as const;

/** A point carried by its plate or by a velocity from the first year to the second. */
export function motionWorking(
  by: Motion['by'],
  fromYear: number,
  toYear: number,
  before: GeocentricPoint,
  after: GeocentricPoint,
): LegWorking {
  const years = toYear - fromYear;
  const moved = AXES.map((axis) => worked(axis, `${axis}_0 + V_${axis}·t`, componentOf(after, axis), MOVED));
  return {
    title: null,
    source: 'docs/methods/plate-motion.md',
    formula: by.kind === 'plate' ? 'V = ω × X, a year; X′ = X + V t' : 'X′ = X + V t',
    lines: [
      startLine(before),
      `${stated('t_1', fromYear, NUMBER)}; ${stated('t_2', toYear, NUMBER)}; ${worked('t', 't_2 − t_1', years, withDecimals(NUMBER, 6))} (years)`,
      ...(by.kind === 'plate'
        ? plateLines(by.pole, before)
        : [
            `${inOne(
              AXES.map((axis) =>
                given(
                  `V_${axis}`,
                  by.kind === 'velocity'
                    ? by.velocity[COMPONENTS[axis]]
                    : (componentOf(after, axis) - componentOf(before, axis)) / years,
                  VELOCITY,
                ),
              ),
            )} (a year${by.kind === 'grid' ? ', bilinear between the nodes of the grid' : ''})`,
          ]),
      ...moved,
    ],
  };
}

function plateLines(pole: PlatePole, before: GeocentricPoint): readonly string[] {
  const velocity = plateVelocity(before, pole);
  const turn = { X: pole.omegaXMasPerYear, Y: pole.omegaYMasPerYear, Z: pole.omegaZMasPerYear };
  const rate = pole.originRate;
  const level = rate === null ? '' : ' + T';
  return [
    `${inOne(AXES.map((axis) => stated(`ω_${axis}`, turn[axis] / 1000, SECONDS_OF_ARC)))} (a year)`,
    ...(rate === null ? [] : originRateLines(rate, before)),
    ...AXES.map((axis) => {
      const [a, b] = TURNS[axis];
      const own = level === '' ? '' : ` + T_${axis} − T_u·u_${axis}`;
      return worked(`V_${axis}`, `ω_${a}·${b}_0 − ω_${b}·${a}_0${own}`, velocity[COMPONENTS[axis]], VELOCITY);
    }),
  ];
}

/** The level part of what the model's origin drifts by, on the normal of GRS 80. */
function originRateLines(rate: NonNullable<PlatePole['originRate']>, before: GeocentricPoint): readonly string[] {
  const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(before, GRS80);
  const [phi, lambda] = [latitudeDeg / DEGREES_PER_RADIAN, longitudeDeg / DEGREES_PER_RADIAN];
  const up = { X: Math.cos(phi) * Math.cos(lambda), Y: Math.cos(phi) * Math.sin(lambda), Z: Math.sin(phi) };
  const own = { X: rate.xMmPerYear / 1000, Y: rate.yMmPerYear / 1000, Z: rate.zMmPerYear / 1000 };
  return [
    `${inOne(AXES.map((axis) => stated(`T_${axis}`, own[axis], VELOCITY)))} (a year, of the model's origin)`,
    together(given('φ_u', latitudeDeg, INPUT_ANGLE), given('λ_u', longitudeDeg, INPUT_ANGLE)),
    together(
      worked('u_X', 'cos φ_u·cos λ_u', up.X, NUMBER),
      worked('u_Y', 'cos φ_u·sin λ_u', up.Y, NUMBER),
      worked('u_Z', 'sin φ_u', up.Z, NUMBER),
    ),
    worked('T_u', 'T_X·u_X + T_Y·u_Y + T_Z·u_Z', own.X * up.X + own.Y * up.Y + own.Z * up.Z, VELOCITY),
  ];
}
