import { describe, expect, it } from 'vitest';
import { distanceCauses } from '../../../../../src/core/quality/cause/hypotheses/distance-causes.js';
import { causeContext, causePoint, formOf, formsOf, readOf } from './a-day.js';

const close = (values: readonly number[]): readonly unknown[] =>
  values.map((value) => expect.closeTo(value, 11) as unknown);

describe('growth with distance', () => {
  // 2 km due east and 1 km due north of the base, 300 m above it and 100 m below.
  const points = [
    causePoint('A', { distanceM: 2000, azimuthDeg: 90, heightDifferenceM: 300 }),
    causePoint('B', { distanceM: 1000, azimuthDeg: 0, heightDifferenceM: -100 }),
  ];
  const models = distanceCauses(causeContext(points));
  const scales = formsOf(models, 'distance-scale');

  it('is along the line from the base in plan, and in height by distance: a millionth of it for each ppm', () => {
    expect(scales.map(({ subject }) => subject)).toEqual(['in plan', 'in height', 'in plan and height']);
    expect([...(formOf(scales, 'in plan').columns[0] ?? [])]).toEqual(close([0.002, 0, 0, 0, 0.001, 0]));
    expect([...(formOf(scales, 'in height').columns[0] ?? [])]).toEqual(close([0, 0, 0.002, 0, 0, 0.001]));
    expect(formOf(scales, 'in plan and height').columns).toHaveLength(2);
    expect(scales.map(({ choices }) => choices)).toEqual([3, 3, 3]);
  });

  it('is turned into the grid: a bearing is an azimuth less the convergence, and stretched by the factor', () => {
    const turned = distanceCauses(
      causeContext([causePoint('A', { distanceM: 1000, azimuthDeg: 120, convergenceDeg: 30, pointScaleFactor: 2 })]),
    );
    // A bearing of 90°: east.
    expect([...(formOf(formsOf(turned, 'distance-scale'), 'in plan').columns[0] ?? [])]).toEqual(close([0.002, 0, 0]));
  });

  it('is at most 60 ppm, of which half a ppm is of any day', () => {
    const both = formOf(scales, 'in plan and height');
    expect(readOf(both, [60, -60])).toEqual({ scale: 60, height_slope: -60 });
    expect(readOf(both, [60.1, 0])).toBeNull();
    expect(readOf(both, [0, -60.1])).toBeNull();
    expect(both.ordinary).toEqual([0.5, 0.5]);
    expect(readOf(formOf(scales, 'in height'), [5])).toEqual({ height_slope: 5 });
  });

  it('grows with the height difference too, at most 500 ppm, of which 20 are of any day', () => {
    const [climb] = formsOf(models, 'height-scale');
    if (climb === undefined) throw new Error('no form');
    expect([...(climb.columns[0] ?? [])]).toEqual(close([0, 0, 0.0003, 0, 0, -0.0001]));
    expect(climb.choices).toBe(1);
    expect(climb.ordinary).toEqual([20]);
    expect(readOf(climb, [-500])).toEqual({ height_slope: -500 });
    expect(readOf(climb, [501])).toBeNull();
  });

  it('is not sought where a line, an azimuth, a difference or the axis is not known', () => {
    const causes = (change: Parameters<typeof causePoint>[1]): readonly string[] =>
      distanceCauses(causeContext(points.map((point) => ({ ...point, ...change })))).map(
        ({ cause, subject }) => `${cause} ${subject}`,
      );
    expect(causes({ azimuthDeg: null })).toEqual(['distance-scale in height', 'height-scale ']);
    expect(causes({ distanceM: null })).toEqual(['height-scale ']);
    expect(causes({ heightDifferenceM: null })).toHaveLength(3);
    expect(causes({ upM: null })).toEqual(['distance-scale in plan']);
    expect(causes({ eastM: null, northM: null })).toEqual(['distance-scale in height', 'height-scale ']);
  });
});

describe('ground distances taken for grid distances', () => {
  // A combined factor of 0.9995 on both: the ground is 500.25 ppm longer.
  const factor = 0.9995;
  const stretch = 1 / factor - 1;
  const at = (pointId: string, first: number, second: number, combinedFactor = factor) =>
    causePoint(pointId, { knownFirstM: first, knownSecondM: second, combinedFactor });
  const points = [at('A', 10_000, 20_000), at('B', 30_000, 10_000)];
  const models = formsOf(distanceCauses(causeContext(points)), 'ground-distances');
  const fixedOf = (subject: string): readonly number[] => {
    const [whole, ...others] = models.filter((model) => model.subject === subject && model.fixed !== null);
    if (whole?.fixed == null || others.length > 0) throw new Error(subject);
    return [...whole.fixed];
  };
  const freeOf = (subject: string) => {
    const [free, ...others] = models.filter((model) => model.subject === subject && model.fixed === null);
    if (free === undefined || others.length > 0) throw new Error(subject);
    return free;
  };

  it('stretches what is measured by 1/k − 1 about the origin, or shrinks what is known by k − 1', () => {
    expect(fixedOf('measured at ground scale, about the origin of the grid')).toEqual(
      close([10_000 * stretch, 20_000 * stretch, 0, 30_000 * stretch, 10_000 * stretch, 0]),
    );
    expect(fixedOf('known at ground scale, about the origin of the grid')).toEqual(close([-5, -10, 0, -15, -5, 0]));
    const [whole] = models;
    expect(whole === undefined ? null : readOf(whole, [])?.['scale']).toBeCloseTo(stretch * 1e6, 9);
    expect(models.filter(({ fixed }) => fixed !== null).map((model) => readOf(model, [])?.['scale'])).toEqual(
      [stretch, stretch, -0.0005, -0.0005].map((value) => expect.closeTo(value * 1e6, 9) as unknown),
    );
  });

  it('has an origin that is not known as an offset beside it, about the middle of the points', () => {
    const subject = 'measured at ground scale, about a point not known';
    expect(fixedOf(subject)).toEqual(
      close([-10_000 * stretch, 5000 * stretch, 0, 10_000 * stretch, -5000 * stretch, 0]),
    );
    expect(models.find((model) => model.subject === subject)?.columns.map((column) => [...column])).toEqual([
      [1, 0, 0, 1, 0, 0],
      [0, 1, 0, 0, 1, 0],
    ]);
    expect(freeOf(subject).columns).toHaveLength(3);
  });

  it('is about a point not known only where the points lie far enough apart to tell a stretch from a constant', () => {
    // 500 ppm over ±1 km each way are 0.5 m beside errors of 1 m; over ±10 km they are ten times as large.
    const near = formsOf(
      distanceCauses(causeContext([at('A', 1000, 2000), at('B', 3000, 1000)])),
      'ground-distances',
    ).filter(({ subject, fixed }) => fixed !== null && subject.endsWith('not known'));
    expect(near).toEqual([]);
    const free = freeOf('measured at ground scale, about a point not known');
    const scale = stretch * 1e6;
    expect(free.read([scale, 0, 0], [scale / 2.9, 1, 1])).toBeNull();
    expect(free.read([scale, 0, 0], [scale / 3.1, 1, 1])).not.toBeNull();
  });

  it('may have one factor for all, in ppm, within those of the points and 20 ppm', () => {
    const free = freeOf('known at ground scale, about the origin of the grid');
    // k − 1 is −500 ppm: a known value that is too small by 1 ppm of 10 km is 1 cm off.
    expect([...(free.columns[0] ?? [])]).toEqual(close([0.01, 0.02, 0, 0.03, 0.01, 0]));
    expect(readOf(free, [-519.9])).toEqual({ scale: -519.9 });
    expect(readOf(free, [-480.1])).toEqual({ scale: -480.1 });
    expect(readOf(free, [-520.1])).toBeNull();
    expect(readOf(free, [-479.9])).toBeNull();
    const spread = formsOf(
      distanceCauses(causeContext([at('A', 1000, 2000, 0.99951), at('B', 3000, 1000, 0.99949)])),
      'ground-distances',
    ).find((model) => model.fixed === null && model.subject === 'known at ground scale, about the origin of the grid');
    if (spread === undefined) throw new Error('no form');
    expect(readOf(spread, [-539.9])).not.toBeNull();
    expect(readOf(spread, [-540.1])).toBeNull();
  });

  it('is about each base mark as well, once, in the unit of the grid; four forms each of all origins', () => {
    expect(new Set(models.map(({ choices }) => choices))).toEqual(new Set([8]));
    const base = (name: string, markKey: string, latitudeDeg: number) =>
      ({
        name,
        markKey,
        markSigmas: { horizontalM: 0, verticalM: 0 },
        latitudeDeg,
        longitudeDeg: 1,
        sigmaHorizontalM: null,
        sigmaVerticalM: null,
        antenna: null,
      }) as const;
    const bases = new Map([
      ['1', base('N', 'mark N', 2)],
      ['2', base('N again', 'mark N', 2)],
      ['3', base('nowhere', 'mark X', 80)],
    ]);
    const context = causeContext(points, {
      bases,
      metresPerUnit: 0.5,
      // A grid of 1000 units a degree that ends at 70°.
      forward: (latitudeDeg, longitudeDeg, out) => {
        if (latitudeDeg > 70) return 'coordinate-outside-domain';
        Object.assign(out, { first: 1000 * longitudeDeg, second: 1000 * latitudeDeg });
        return 'ok';
      },
    });
    const about = formsOf(distanceCauses(context), 'ground-distances');
    const subject = 'known at ground scale, about base N';
    expect(about.filter((model) => model.subject === subject)).toHaveLength(2);
    expect(about.some((model) => model.subject.includes('again') || model.subject.includes('nowhere'))).toBe(false);
    // The base lies at 500, 1000 m.
    expect([...(about.find((model) => model.subject === subject)?.fixed ?? [])]).toEqual(
      close([-4.75, -9.5, 0, -14.75, -4.5, 0]),
    );
    expect(new Set(about.map(({ choices }) => choices))).toEqual(new Set([12]));
  });

  it('stretches the known side alone where each measured pair is its own place in the system', () => {
    const known = formsOf(distanceCauses(causeContext(points, { isMeasuredSound: true })), 'ground-distances');
    expect(new Set(known.map(({ subject }) => subject[0]))).toEqual(new Set(['k']));
    expect(new Set(known.map(({ choices }) => choices))).toEqual(new Set([4]));
  });

  it('turns with axes that point west and south', () => {
    const west = formsOf(distanceCauses(causeContext(points, { axisSigns: [-1, -1] })), 'ground-distances');
    const known = west.find(
      (model) => model.fixed !== null && model.subject === 'known at ground scale, about the origin of the grid',
    );
    expect([...(known?.fixed ?? [])]).toEqual(close([5, 10, 0, 15, 5, 0]));
  });

  it('is not sought where a factor is missing, where it cannot be told from 1, or without plan', () => {
    const count = (list: Parameters<typeof causeContext>[0]): number =>
      formsOf(distanceCauses(causeContext(list)), 'ground-distances').length;
    expect(count([at('A', 1, 2), causePoint('B', { knownFirstM: 1, knownSecondM: 2 })])).toBe(0);
    expect(count([at('A', 1000, 2, 1 - 0.9e-6), at('B', 1, 2, 1 - 0.9e-6)])).toBe(0);
    // Six: none of stated size about a point not known, as a thousandth of a millimetre is no stretch on this day.
    expect(count([at('A', 1000, 2, 1 - 1.1e-6), at('B', 1, 2, 1 - 1.1e-6)])).toBe(6);
    expect(count(points.map((point) => ({ ...point, eastM: null, northM: null })))).toBe(0);
    expect(count([at('A', 1, 2), { ...at('B', 1, 2), knownFirstM: null }])).toBe(0);
  });
});
