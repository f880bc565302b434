import { describe, expect, it } from 'vitest';
import { BOUNDS, judgeBounds } from '../../tools/decision-rates/bounds.mjs';
import { toGeocentric, toGeodetic, transverseMercator } from '../../tools/decision-rates/earth.mjs';
import { wilson } from '../../tools/decision-rates/intervals.mjs';
import { PARTS, jobsOf } from '../../tools/decision-rates/parts.mjs';
import { stream } from '../../tools/decision-rates/random.mjs';
import { slowError } from '../../tools/decision-rates/slow-error.mjs';
import {
  WORLD,
  atmosphereOf,
  correlationTimes,
  epochErrors,
  receiverAt,
  slowSigmas,
} from '../../tools/decision-rates/world.mjs';
import { WGS84 } from '../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../src/core/ellipsoid/geocentric.js';
import { createPrecisionModel } from '../../src/core/planning/precision-model.js';
import { readReferenceTable } from '../support/read-reference-table.js';
import { textOf } from '../support/repository-files.js';

// The simulation itself: what it draws has the sizes that it says. What it finds is in docs/methods/decision-rates.md, and
// continuous integration runs its small version, whose bounds are tried here on what was found before the rules held a rate.

const SEED = 5;

describe('intervals of rates', () => {
  it.each(readReferenceTable('wilson').map((row) => [row.case, row] as const))('%s', (_, row) => {
    const { low, high } = wilson(row.number('count'), row.number('of'));
    expect(Math.abs(low - row.number('low'))).toBeLessThan(row.tolerance);
    expect(Math.abs(high - row.number('high'))).toBeLessThan(row.tolerance);
  });
});

describe('random numbers', () => {
  it('are the same for the same words and others for other words', () => {
    const first = [1, 2, 3].map(() => stream(SEED, 'a', 1).next());
    expect(new Set(first).size).toBe(1);
    expect(stream(SEED, 'a', 2).next()).not.toBe(first[0]);
    expect(stream(SEED + 1, 'a', 1).next()).not.toBe(first[0]);
  });

  it('have the moments of a normal distribution', () => {
    const random = stream(SEED, 'moments');
    const values = Array.from({ length: 40_000 }, () => random.normal());
    const moment = (power: number): number => values.reduce((sum, value) => sum + value ** power, 0) / values.length;
    // Four standard errors: of the mean 1/√n, of the square √(2/n), of the fourth power √(96/n).
    expect(Math.abs(moment(1))).toBeLessThan(4 / 200);
    expect(Math.abs(moment(2) - 1)).toBeLessThan((4 * Math.SQRT2) / 200);
    expect(Math.abs(moment(4) - 3)).toBeLessThan((4 * Math.sqrt(96)) / 200);
  });
});

describe('a slow error', () => {
  it('has unit variance and the autocorrelation exp(-|t|/τ)', () => {
    const tau = 300;
    const lags = [0, 30, 150, 300, 900];
    const sums = lags.map(() => 0);
    const RUNS = 4000;
    for (let run = 0; run < RUNS; run += 1) {
      const values = new Float64Array(31);
      slowError(stream(SEED, 'slow', run)).addTo(values, 1, tau, 1000, 30);
      lags.forEach((lag, i) => (sums[i] = (sums[i] ?? 0) + (values[0] ?? 0) * (values[lag / 30] ?? 0)));
    }
    lags.forEach((lag, i) => {
      // The product of two standard normals has a variance of at most 2.
      expect(Math.abs((sums[i] ?? 0) / RUNS - Math.exp(-lag / tau)), `lag ${lag} s`).toBeLessThan(
        4 * Math.sqrt(2 / RUNS),
      );
    });
  });
});

describe('the errors of a stand', () => {
  const model = createPrecisionModel({
    conditions: 'normal',
    horizontal: null,
    vertical: null,
    combine: 'rss',
    correlationHorizontalS: null,
    correlationVerticalS: null,
  });

  it.each([
    [1000, 0],
    [8000, 300],
    [25_000, -100],
    [40_000, 0],
  ])('are drawn for the sizes that the planning page claims at %i m', (distance, heightDifference) => {
    const { horizontal, vertical, correlationHorizontalS, correlationVerticalS } = model.at(distance, heightDifference);
    const [h = 0, v = 0] = slowSigmas(distance, heightDifference);
    expect(h).toBeCloseTo(horizontal.totalM, 6);
    expect(v).toBeCloseTo(vertical.totalM, 6);
    expect(correlationTimes(distance)).toEqual([correlationHorizontalS, correlationVerticalS]);
  });

  it('have that size when realised', () => {
    const line = { east: 15_000, north: -20_000, distance: 25_000, heightDifference: 200 };
    const sums = [0, 0, 0];
    const RUNS = 2000;
    for (let run = 0; run < RUNS; run += 1) {
      const random = stream(SEED, 'stand', run);
      const errors = epochErrors({
        world: WORLD,
        random,
        air: atmosphereOf(random),
        baseReceiver: receiverAt(random),
        roverReceiver: receiverAt(random),
        line,
        startS: 500,
        stepS: 1,
        count: 1,
      });
      errors.forEach((axis, i) => (sums[i] = (sums[i] ?? 0) + (axis[0] ?? 0) ** 2));
    }
    const [h = 0, v = 0] = slowSigmas(line.distance, line.heightDifference);
    // Noise from epoch to epoch of 4 and 8 mm on top.
    const expected = [h ** 2 + 0.004 ** 2, h ** 2 + 0.004 ** 2, v ** 2 + 0.008 ** 2];
    expected.forEach((variance, i) => {
      expect(Math.abs((sums[i] ?? 0) / RUNS / variance - 1), `axis ${i}`).toBeLessThan(4 * Math.sqrt(2 / RUNS));
    });
  });
});

describe('the geodesy of the simulation', () => {
  it('is that of the ellipsoid, there and back', () => {
    for (const place of [
      [-31.5, 21.3, 1040],
      [52.1, -7.3, 0],
      [0.2, 179.9, 8000],
    ] as const) {
      const [x, y, z] = toGeocentric(place);
      const { xM, yM, zM } = geodeticToGeocentric(
        { latitudeDeg: place[0], longitudeDeg: place[1], ellipsoidalHeightM: place[2] },
        WGS84,
      );
      expect(Math.hypot(x - xM, y - yM, z - zM)).toBeLessThan(1e-8);
      const [latitude, longitude, height] = toGeodetic([x, y, z]);
      expect(Math.abs(latitude - place[0]) + Math.abs(longitude - place[1])).toBeLessThan(1e-12);
      expect(Math.abs(height - place[2])).toBeLessThan(1e-6);
    }
  });

  // The TM projection as `cct +proj=tmerc +lon_0=21 +ellps=WGS84` of PROJ 9.1 gives it.
  it('projects as PROJ does', () => {
    const [east, north] = transverseMercator([-31.6, 21.45, 0], 21);
    expect(east).toBeCloseTo(42_705.678137, 4);
    expect(north).toBeCloseTo(-3_497_586.983308, 4);
  });
});

describe('the bounds of the small run', () => {
  const before = JSON.parse(textOf('tools/decision-rates/before.json')) as { results: Record<string, unknown> };

  it('do not hold for the rules as they were', () => {
    const said: string[] = [];
    expect(judgeBounds(before.results, (line) => said.push(line))).toBe(false);
    for (const fault of [
      'stands/5/',
      'stands/7/',
      'stands/12/',
      'repeats/2',
      'repeats/5',
      'repeats/one name, two marks',
      'days/model: all 0',
      'days/base 3 m',
      'causes/phase centre',
      'causes/control coordinate',
      'sites/exact',
      'sites/no sigmas/names exchanged',
    ]) {
      expect(said.join('\n')).toContain(fault);
    }
  });

  it('are of jobs that exist', () => {
    const names = PARTS.map(({ name }) => name);
    const jobs = jobsOf({ isQuick: true, scale: 0.1, seed: SEED }, names).map(({ id }) => id);
    for (const { id } of BOUNDS) expect(jobs, id).toContain(id);
  });
});
