import { describe, expect, it } from 'vitest';
import { siteHeightShiftM, siteSigma } from '../../../src/core/adjustment/site/site-transform.js';
import type { PlanePoint } from '../../../src/core/adjustment/convex-hull.js';
import type { ControlPair } from '../../../src/tasks/site/control/pair-control.js';
import { fitSurface } from '../../../src/tasks/site/surface/surface-fit.js';
import { SURFACE_DEFAULTS } from '../../../src/tasks/site/surface/surface-settings.js';
import { seededRandom } from '../../support/seeded-random.js';
import type { SeededRandom } from '../../support/seeded-random.js';

// The generator shares nothing with the fit: a plane, a signal drawn by its own triangle, normal errors, and an error of each base that
// is common to all measured from it. Sizes are invented: 60 km, 15 mm over 20 km, 12 mm of a height, 4 mm of a benchmark.
const REACH_M = 30_000;
const SIGMA = { signal: 0.015, lengthM: 20_000, measured: 0.012, control: 0.004, base: 0.02 };

function drawnSignal(places: readonly PlanePoint[], random: SeededRandom): readonly number[] {
  const lower: number[][] = [];
  const drawn: number[] = [];
  return places.map((place, i) => {
    const row: number[] = [];
    lower.push(row);
    for (let j = 0; j <= i; j += 1) {
      const d = Math.hypot(place.eastM - places[j]!.eastM, place.northM - places[j]!.northM);
      let rest = SIGMA.signal ** 2 * Math.exp(-d / SIGMA.lengthM);
      for (let k = 0; k < j; k += 1) rest -= row[k]! * lower[j]![k]!;
      row.push(i === j ? Math.sqrt(rest) : rest / lower[j]![j]!);
    }
    drawn.push(random.normal());
    return row.reduce((sum, value, k) => sum + value * drawn[k]!, 0);
  });
}

/** How many of the places asked about hold the truth within 1.96 sigma. */
function coverage(runs: number, bases: number, seed: number): { readonly inside: number; readonly outside: number } {
  const random = seededRandom(seed);
  const held = { inside: 0, outside: 0 };
  for (let run = 0; run < runs; run += 1) {
    const places = Array.from({ length: 18 }, (_, i): PlanePoint => {
      const part = i < 12 ? Math.sqrt((i + 0.5) / 12) : i < 15 ? 0.6 * random.next() : 1.3 + 0.5 * random.next();
      const turn = i < 12 ? 2.399963 * i + 0.4 * random.next() : 2 * Math.PI * random.next();
      return { eastM: REACH_M * part * Math.sin(turn), northM: REACH_M * part * Math.cos(turn) };
    });
    const signal = drawnSignal(places, random);
    const slope = [2e-6 * random.normal(), 2e-6 * random.normal()] as const;
    const truth = places.map((place, i) => 0.3 + slope[0] * place.eastM + slope[1] * place.northM + signal[i]!);
    const errors = Array.from({ length: bases }, () => SIGMA.base * random.normal());
    const pairs = places.slice(0, 12).map((source, i) => {
      const base = bases === 0 ? null : `B${String(i % bases)}`;
      const measured = 1000 + SIGMA.measured * random.normal() + (bases === 0 ? 0 : errors[i % bases]!);
      return {
        control: { pointId: `Q${String(i)}` },
        measured: { station: { latitudeDeg: -31.5 } },
        source,
        convergenceDeg: 0.2,
        measuredHeightM: measured,
        controlHeightM: 1000 + truth[i]! + SIGMA.control * random.normal(),
        heightVarianceM2: SIGMA.measured ** 2 + SIGMA.control ** 2,
        shared: base === null ? null : { id: base, names: base, horizontalM2: 0, verticalM2: SIGMA.base ** 2 },
      } as unknown as ControlPair;
    });
    const shared = Array.from({ length: bases }, (_, i) => ({ id: `B${String(i)}`, varianceM2: SIGMA.base ** 2 }));
    const fit = fitSurface({ pairs, shared, settings: SURFACE_DEFAULTS, allowPoorSpread: false });
    if (!fit.ok) throw new Error(fit.problems[0]?.message);
    const origin = { eastM: 0, northM: 0 };
    const site = {
      horizontal: { sourceOrigin: origin, targetOrigin: origin, scale: 1, rotationRad: 0 },
      horizontalCovariance: new Array<number>(16).fill(0),
      vertical: fit.value.surface,
      verticalCovariance: null,
      hull: [],
      verticalHull: [],
    };
    for (let at = 12; at < 18; at += 1) {
      const key = at < 15 ? 'inside' : 'outside';
      const off = siteHeightShiftM(site, places[at]!)! - truth[at]!;
      if (Math.abs(off) <= 1.959964 * siteSigma(site, places[at]!).heightM!) held[key] += 1;
    }
  }
  return { inside: held.inside / (3 * runs), outside: held.outside / (3 * runs) };
}

describe('the sigma of a surface of heights', () => {
  it.each([
    ['without bases', 0, 11],
    ['from one base', 1, 12],
    ['from three bases', 3, 13],
  ])('holds the truth at 93 to 97 of 100 places between and beyond the benchmarks: %s', (_, bases, seed) => {
    const { inside, outside } = coverage(800, bases, seed);
    expect(inside).toBeGreaterThanOrEqual(0.93);
    expect(inside).toBeLessThanOrEqual(0.97);
    expect(outside).toBeGreaterThanOrEqual(0.93);
    expect(outside).toBeLessThanOrEqual(0.97);
  });
});
