import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import { gridOf } from '../../examples/quillback-pan/earth.mjs';
import { slowErrorAt } from '../../examples/quillback-pan/error-model.mjs';
import * as exact from '../../examples/quillback-pan/exact-arithmetic.mjs';
import { DAY_SEED, dayFiles, generateDay } from '../../examples/quillback-pan/generate.mjs';
import type { ReducedPoint } from '../../src/records/points/reduced-point.js';
import { NORMAL_PRECISION } from '../support/check-setup.js';
import { ROOT, textOf } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';
import { createDayReduction } from './reduce-generated-day.js';
import type { ReducedDay } from './reduce-generated-day.js';

const FOLDER = 'examples/quillback-pan';
const EXPECTED = `${FOLDER}/expected-points.csv`;
/** Stands that were never a point; a correct reduction gives them no coordinate. */
const NO_POINTS = ['QP-21', 'QP-22', 'QP-23'];
const SPOILT_REPEATS = ['QP-03', 'QP-06'];

let reduce: Awaited<ReturnType<typeof createDayReduction>>;

beforeAll(async () => {
  reduce = await createDayReduction();
});

describe('the files of the invented day', () => {
  const files = dayFiles(DAY_SEED);
  for (const [name, text] of Object.entries(files)) {
    it(`hold what the generator writes for the seed: ${name}`, () => {
      expect(textOf(`${FOLDER}/${name}`) === text, `${name} is not what node ${FOLDER}/generate.mjs writes`).toBe(true);
    });
  }

  it('change with the seed', () => {
    expect(dayFiles(DAY_SEED + 1)['fixes.csv']).not.toBe(files['fixes.csv']);
  });
});

describe('the generator', () => {
  it('reckons elementary functions to a few units of the last place', () => {
    for (let x = -3.9; x < 4; x += 0.0371) {
      expect(exact.sin(x)).toBeCloseTo(Math.sin(x), 15);
      expect(exact.cos(x)).toBeCloseTo(Math.cos(x), 15);
      expect(exact.atan(x)).toBeCloseTo(Math.atan(x), 15);
      expect(exact.atan2(Math.sin(0.7 * x), Math.cos(0.7 * x))).toBeCloseTo(
        Math.atan2(Math.sin(0.7 * x), Math.cos(0.7 * x)),
        14,
      );
      expect(exact.exp(x) / Math.exp(x)).toBeCloseTo(1, 14);
      expect(exact.log(x * x)).toBeCloseTo(Math.log(x * x), 14);
      expect(exact.sinh(x) / Math.sinh(x)).toBeCloseTo(1, 14);
      expect(exact.cosh(x) / Math.cosh(x)).toBeCloseTo(1, 14);
      expect(exact.atanh(x / 4)).toBeCloseTo(Math.atanh(x / 4), 14);
    }
  });

  it('has the error model that the reduction plans with', () => {
    const model = NORMAL_PRECISION;
    for (const [baselineM, heightDifferenceM] of [
      [0, 0],
      [900, 12],
      [9_999, -80],
      [14_000, 3],
      [31_000, 240],
      [57_000, -310],
    ] as const) {
      const own = slowErrorAt(baselineM, heightDifferenceM);
      const planned = model.at(baselineM, heightDifferenceM);
      for (const axis of ['horizontal', 'vertical'] as const) {
        expect(own[axis].constantM).toBeCloseTo(planned[axis].constantM, 12);
        expect(Math.hypot(own[axis].constantM, own[axis].growingM)).toBeCloseTo(planned[axis].totalM, 12);
      }
      expect(own.horizontal.correlationS).toBeCloseTo(planned.correlationHorizontalS, 9);
      expect(own.vertical.correlationS).toBeCloseTo(planned.correlationVerticalS, 9);
    }
  });

  it('lays its points on the grid where the reduction does, to a micrometre', () => {
    const day = generateDay(DAY_SEED);
    const { setup } = reduce(day);
    for (const { place } of day.points) {
      const pair = { first: 0, second: 0 };
      expect(setup.grid?.forward(place.latitudeDeg, place.longitudeDeg, pair)).toBe('ok');
      const own = gridOf(place);
      expect(Math.abs(pair.first - own.westingM)).toBeLessThan(1e-6);
      expect(Math.abs(pair.second - own.southingM)).toBeLessThan(1e-6);
    }
  });
});

const rowsOf = (text: string): readonly Record<string, string>[] => parse(text, { columns: true });

describe('the reduction of the committed day', () => {
  it('gives the points that are kept, to one unit of the last decimal', async () => {
    const words = ['reduce-points', `${FOLDER}/fixes.csv`, '--session', `${FOLDER}/session.toml`, '--quiet'];
    const result = await runInProcess(words, { cwd: ROOT });
    expect(result.stderr).toBe('');
    expect(result.exit).toBe(1);
    const text = result.stdout.toString('utf8');
    if (process.env['UPDATE'] === '1') writeFileSync(join(ROOT, EXPECTED), text);
    const expected = rowsOf(textOf(EXPECTED));
    const actual = rowsOf(text);
    expect(actual.map((row) => Object.keys(row))).toEqual(expected.map((row) => Object.keys(row)));
    expected.forEach((row, index) => {
      for (const [name, cell] of Object.entries(row)) {
        const other = actual[index]?.[name] ?? '';
        const decimals = /^-?\d+\.(\d+)$/.exec(cell)?.[1]?.length;
        if (decimals === undefined) expect(other, `${row['point_id'] ?? ''} ${name}`).toBe(cell);
        else
          expect(Math.abs(Number(other) - Number(cell)), `${row['point_id'] ?? ''} ${name}`).toBeLessThan(
            1.5 * 10 ** -decimals,
          );
      }
    });
  });

  it('holds the truth within its 95 % figures, or a little beyond, wherever nothing was planted', () => {
    const day = generateDay(DAY_SEED);
    for (const { point } of reduce(day).occupations) {
      if (NO_POINTS.includes(point.pointId) || (SPOILT_REPEATS.includes(point.pointId) && point.occupation === '1'))
        continue;
      const truth = day.points.find(({ settings }) => settings.id === point.pointId);
      if (truth === undefined || point.position === null || point.summary === null)
        throw new Error(`${point.pointId} is missing`);
      const grid = gridOf(truth.place);
      const plan = Math.hypot(
        (point.position.gridFirst ?? NaN) - grid.westingM,
        (point.position.gridSecond ?? NaN) - grid.southingM,
      );
      expect(plan / point.summary.circle95M, point.pointId).toBeLessThan(1.6);
      expect(
        Math.abs((point.position.orthometricHeightM ?? NaN) - truth.orthometricHeightM) / point.summary.vertical95M,
        point.pointId,
      ).toBeLessThan(1.6);
    }
  });
});

function reasonsOf(reduced: ReducedDay, points: readonly ReducedPoint[], pointId: string): ReadonlySet<string> {
  const epochs = reduced.occupations
    .filter(({ point }) => point.pointId === pointId)
    .flatMap(({ working }) => [...working.epochs].flatMap(({ refusals }) => refusals));
  return new Set([...epochs, ...points.filter((point) => point.pointId === pointId).flatMap(({ reasons }) => reasons)]);
}

describe('what was planted', () => {
  const DAYS = 60;
  const days = Array.from({ length: DAYS }, (_, index) => (index === 0 ? DAY_SEED : index));
  const results = new Map<
    number,
    { reduced: ReducedDay; points: readonly ReducedPoint[]; pairs: ReturnType<ReducedDay['combined']>['pairs'] }
  >();

  beforeAll(() => {
    for (const seed of days) {
      const reduced = reduce(generateDay(seed));
      results.set(seed, { reduced, ...reduced.combined() });
    }
  });

  for (const { pointId, what, shown } of generateDay(DAY_SEED).planted) {
    it(`is shown on each of ${DAYS} days: ${pointId}, ${what}`, () => {
      for (const [seed, { reduced, points }] of results)
        expect(reasonsOf(reduced, points, pointId), `seed ${seed}`).toContain(shown);
    });
  }

  it('is found in repeats, and cannot be seen in the spoilt stand alone', () => {
    for (const { points } of results.values()) {
      for (const pointId of SPOILT_REPEATS) {
        expect(points.filter((point) => point.pointId === pointId).map(({ verdict }) => verdict)).toEqual([
          'review',
          'review',
        ]);
      }
    }
    const alone = (results.get(DAY_SEED)?.reduced.occupations ?? []).filter(({ point }) =>
      SPOILT_REPEATS.includes(point.pointId),
    );
    expect(alone.map(({ point }) => point.verdict)).toEqual(['accepted', 'accepted', 'accepted', 'accepted']);
  });

  it('as lone outliers is left out of the mean, and leaves the stand accepted', () => {
    for (const { reduced } of results.values()) {
      const stand = reduced.occupations.find(({ point }) => point.pointId === 'QP-05' && point.occupation === '1');
      for (const index of [14, 37, 61]) expect(stand?.working.epochs.at(index)?.refusals).toEqual(['epoch-outlier']);
      expect(stand?.point.reasons).not.toContain('point-antenna-moving');
    }
  });

  it('costs no clean stand its coordinate', () => {
    let stands = 0;
    let without = 0;
    for (const { reduced } of results.values()) {
      for (const { point } of reduced.occupations) {
        if (NO_POINTS.includes(point.pointId)) expect(point.position, point.pointId).toBeNull();
        else {
          stands += 1;
          if (point.position === null) without += 1;
        }
      }
    }
    expect(stands).toBe(DAYS * 34);
    expect(without).toBe(0);
  });

  it('leaves clean repeats disagreeing in about one case of ten', () => {
    const clean = [...results.values()].flatMap(({ pairs }) =>
      pairs.filter(({ first }) => !SPOILT_REPEATS.includes(first.pointId)),
    );
    const share = clean.filter(({ test }) => test.disagrees).length / clean.length;
    expect(clean.length).toBe(DAYS * 9);
    expect(share).toBeGreaterThan(0.04);
    expect(share).toBeLessThan(0.16);
  });
});
