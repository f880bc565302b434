import { gridParameter } from '../../../core/grid/systems/grid-parameter.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { mercatorLines, swissCylinderLines } from './cylinders/cylinder-lines.js';
import { pairLines } from './grid-lines.js';
import type { ProjectedLines } from './grid-lines.js';
import { albersLines } from './cones/albers-lines.js';
import { cassiniLines } from './cylinders/cassini-lines.js';
import { cityPlaneLines } from './cylinders/city-plane-lines.js';
import { azimuthalEqualAreaLines } from './planes/equal-area-lines.js';
import { equalEarthLines } from './cylinders/equal-earth-lines.js';
import { equalAreaCylinderLines, equidistantCylinderLines } from './cylinders/flat-cylinder-lines.js';
import { krovakLines, modifiedKrovakLines } from './cones/krovak-lines.js';
import { labordeLines } from './cylinders/laborde-lines.js';
import { lambertConicLines } from './cones/lambert-conic-lines.js';
import { mapGridLines } from './map-grid-lines.js';
import { obliqueMercatorLines } from './cylinders/oblique-mercator-lines.js';
import { polyconicLines } from './cones/polyconic-lines.js';
import { anyStereographicLines } from './planes/any-stereographic-lines.js';
import { obliqueStereographicLines, polarStereographicLines } from './planes/stereographic-lines.js';
import { transverseMercatorLines } from './cylinders/transverse-mercator-lines.js';

interface WorkedMethod {
  readonly formula: string;
  readonly source: string;
  /** Null: not of this form of the method. */
  readonly lines: (grid: GridSystem, latitudeDeg: number, longitudeDeg: number) => ProjectedLines | null;
  /** It prints no factors, or such as are of the ellipsoid of the ground. */
  readonly isWithoutFactors?: true;
  /** The library's series of the method is off by so much far from its meridian, metres; the terms here are exact. Absent: it is not. */
  readonly offM?: number;
}

const SERIES: WorkedMethod = {
  formula:
    "by Krüger's series in the third flattening n to sixth order: ξ = ξ′ + Σ αⱼ sin 2jξ′ cosh 2jη′, η = η′ + Σ αⱼ cos 2jξ′ sinh 2jη′",
  source: 'KARNEY-2011, equations 7–12, 23–36; docs/methods/grid-factors.md',
  lines: transverseMercatorLines,
};
const METHODS: Readonly<Record<string, WorkedMethod>> = {
  tmerc: SERIES,
  utm: SERIES,
  lcc: {
    formula:
      'on a cone of constant n, r = a k₀ m₁ / n exp(n (q₁ − q)), θ = n Δλ; q isometric latitude, a m radius of the parallel',
    source:
      'IOGP-373-7-2, methods 9801, 9802, 9803, 1051; SNYDER-1395, equations 15-1 to 15-11; docs/methods/grid-factors.md',
    lines: lambertConicLines,
  },
  stere: {
    formula:
      'about the pole, r = c exp(∓q); q isometric latitude, c from the scale at the pole or the parallel of true scale',
    source: 'IOGP-373-7-2, methods 9810, 9829; docs/methods/grid-factors.md',
    lines: polarStereographicLines,
  },
  sterea: {
    formula: 'to a conformal sphere, and from it to the plane: w = c exp(2 n q), sin χ = (w − 1) / (w + 1), Λ = n Δλ',
    source: 'IOGP-373-7-2, method 9809; docs/methods/grid-factors.md',
    lines: obliqueStereographicLines,
  },
  merc: {
    formula: 'E = E₀ + a k₀ Δλ, N = N₀ + a k₀ q; q isometric latitude',
    source: 'IOGP-373-7-2, methods 9804, 9805; docs/methods/grid-factors.md',
    lines: mercatorLines,
  },
  somerc: {
    formula: 'to a conformal sphere, turned so that the origin is on the equator, and onto a cylinder',
    source: 'IOGP-373-7-2, method 9815; docs/methods/grid-factors.md',
    lines: swissCylinderLines,
  },
  omerc: {
    formula:
      'to a sphere that keeps angles, turned so that the central line is its equator, onto a cylinder along it, and turned by the angle of the grid; q isometric latitude',
    source: 'IOGP-373-7-2, methods 9812, 9815; SNYDER-1395, equations 9-11 to 9-36; docs/methods/grid-factors.md',
    lines: obliqueMercatorLines,
  },
  krovak: {
    formula: 'to a conformal sphere, turned by the co-latitude of the axis, and onto a cone that touches at φ_P',
    source: 'IOGP-373-7-2, method 9819; docs/methods/grid-factors.md',
    lines: krovakLines,
  },
  mod_krovak: {
    formula:
      'Krovak’s cone, less a polynomial of ten terms that brings it to the adjusted network; its scale differs with direction',
    source: 'IOGP-373-7-2, methods 9819, 1042, 1043; docs/methods/grid-factors.md',
    lines: modifiedKrovakLines,
    isWithoutFactors: true,
  },
  labrd: {
    formula:
      'to a conformal sphere, its transverse Mercator map H = n + i e_H, and H + G H³ of it, which turns the line of least distortion',
    source: 'IOGP-373-7-2, method 9813; docs/methods/grid-systems.md',
    lines: labordeLines,
    isWithoutFactors: true,
  },
  nzmg: {
    formula:
      'isometric latitude x₁ by a polynomial of the latitude, north and east n + i m by one of the complex number x₁ + i y₁',
    source: 'IOGP-373-7-2, method 9811; docs/methods/grid-systems.md',
    lines: mapGridLines,
    isWithoutFactors: true,
  },
  cass: {
    formula: 'x along the great circle square to the central meridian, y along that; its scale differs with direction',
    source: 'IOGP-373-7-2, methods 9806, 9833; KARNEY-2011, equation 35; docs/methods/grid-factors.md',
    lines: cassiniLines,
    isWithoutFactors: true,
  },
  aea: {
    formula: 'on a cone that keeps areas: ρ = a √(C − n q) / n, θ = n Δλ; its scale differs with direction',
    source: 'IOGP-373-7-2, method 9822; SNYDER-1395, equations 14-1 to 14-15; docs/methods/grid-factors.md',
    lines: albersLines,
    isWithoutFactors: true,
  },
  poly: {
    formula:
      'each parallel on a cone of its own, which touches at it: ρ = ν / tan φ, θ = Δλ sin φ; its scale differs with direction',
    source:
      'IOGP-373-7-2, method 9818; SNYDER-1395, equations 18-12 to 18-14; KARNEY-2011; docs/methods/grid-factors.md',
    lines: polyconicLines,
    isWithoutFactors: true,
    offM: 1e-4,
  },
  laea: {
    formula: 'to a sphere of the same area, and from it by chords; its scale differs with direction',
    source: 'IOGP-373-7-2, method 9820; docs/methods/grid-factors.md',
    lines: azimuthalEqualAreaLines,
    isWithoutFactors: true,
  },
  eqc: {
    formula: 'E along the parallel of true length, N the arc of the meridian; its scale differs with direction',
    source: 'IOGP-373-7-2, method 1028; KARNEY-2011; docs/methods/grid-factors.md',
    lines: equidistantCylinderLines,
    isWithoutFactors: true,
  },
  cea: {
    formula: 'E along the parallel of true length, N as the area from the equator; its scale differs with direction',
    source: 'IOGP-373-7-2, method 9835; SNYDER-1395, equations 10-13 to 10-15; docs/methods/grid-factors.md',
    lines: equalAreaCylinderLines,
    isWithoutFactors: true,
  },
  eqearth: {
    formula:
      'to a sphere of the same area, and from it by a polynomial that keeps areas; its scale differs with direction',
    source: 'IOGP-373-7-2, method 1078; docs/methods/grid-factors.md',
    lines: equalEarthLines,
    isWithoutFactors: true,
  },
  col_urban: {
    formula: 'onto a plane at the height h₀ of the city; its scale differs with direction',
    source: 'IOGP-373-7-2, method 1052; docs/methods/grid-factors.md',
    lines: cityPlaneLines,
    isWithoutFactors: true,
  },
};
/** The stereographic map about another place than a pole, of the conformal sphere of the ellipsoid itself. */
const ANY_STEREOGRAPHIC: WorkedMethod = {
  formula: 'to the conformal latitude χ, and from a sphere to the plane at the origin',
  source: 'SNYDER-1395, equations 21-24 to 21-27; docs/methods/grid-factors.md',
  lines: anyStereographicLines,
};
/** What is worked out may differ so far from what the program computes, metres: the place where both print their last digit. */
const SAME_M = 1e-5;

/** How a projection is explained: the method's formula, the lines of its working, its source. */
export interface ExplainedProjection {
  readonly formula: string;
  readonly substitution: readonly string[];
  readonly source: string;
  /** Whether every term is printed. */
  readonly isPrinted: boolean;
}

/**
 * Given: a grid, a place in degrees and its pair on the grid. Returned: how the one comes from the other, term by term; where this
 * is not written out for the method, or would give another pair, its parameters.
 */
export function explainProjection(
  grid: GridSystem,
  { latitudeDeg, longitudeDeg }: { readonly latitudeDeg: number; readonly longitudeDeg: number },
  pair: readonly [number, number],
): ExplainedProjection {
  const { method: name, parameters } = grid.projection;
  const method = methodOf(grid);
  // Of another ellipsoid than the ground's the factors would be too.
  const ofGround = grid.projection.conformal || method?.isWithoutFactors === true;
  const found = method?.lines(grid, latitudeDeg, longitudeDeg) ?? null;
  if (method === null || found === null || !isSame(grid, found, pair, method.offM ?? SAME_M))
    // No method is off without saying so.
    return {
      formula: `${name}; parameters ${parameters.map((p) => `${p.name} ${String(p.value)}${p.unit === '' ? '' : ` ${p.unit}`}`).join(', ')}`,
      substitution: ['the terms of this method are not printed'],
      source: 'docs/methods/grid-systems.md',
      isPrinted: false,
    };
  return {
    formula: `${name}, ${method.formula}`,
    substitution: [
      ...found.lines,
      ...pairLines(grid, found.eastM, found.northM),
      ...offLines(isSame(grid, found, pair, SAME_M), method),
      ...(ofGround ? found.factors : []),
    ],
    source: method.source,
    isPrinted: true,
  };
}

/** Where the pair of the program comes from a series that is less exact than these terms. */
function offLines(isExact: boolean, { offM }: WorkedMethod): readonly string[] {
  return isExact || offM === undefined
    ? []
    : [
        `the coordinates of the program come from a series, which is off by less than ${String(1000 * offM)} mm so far from the meridian`,
      ];
}

function methodOf(grid: GridSystem): WorkedMethod | null {
  const { key } = grid.projection;
  if (key === 'stere' && Math.abs(gridParameter(grid, 'latitude of origin') ?? 0) !== 90) return ANY_STEREOGRAPHIC; // Not stated: the equator.
  return METHODS[key] ?? null;
}

function isSame(
  { axes }: GridSystem,
  { eastM, northM }: ProjectedLines,
  [first, second]: readonly [number, number],
  withinM: number,
): boolean {
  return (
    Math.abs(Math.abs(first * axes[0].metresPerUnit) - Math.abs(eastM)) < withinM &&
    Math.abs(Math.abs(second * axes[1].metresPerUnit) - Math.abs(northM)) < withinM
  );
}
