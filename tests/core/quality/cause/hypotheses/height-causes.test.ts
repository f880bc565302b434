import { describe, expect, it } from 'vitest';
import { heightCauses } from '../../../../../src/core/quality/cause/hypotheses/height-causes.js';
import { causeContext, causePoint, formOf, formsOf, readOf } from './a-day.js';

describe('the other kind of height', () => {
  const points = [causePoint('A', { geoidHeightM: 40 }), causePoint('B', { geoidHeightM: 43 })];
  const models = heightCauses(causeContext(points));

  it('moves each height by its geoid height', () => {
    const kinds = formsOf(models, 'height-kind');
    expect(kinds.map(({ fixed }) => [...(fixed ?? [])])).toEqual([
      [0, 0, 40, 0, 0, 43],
      [0, 0, -40, 0, 0, -43],
    ]);
    expect(kinds.map(({ subject }) => subject)).toEqual([
      'measured ellipsoidal, known orthometric',
      'measured orthometric, known ellipsoidal',
    ]);
    expect(kinds.map(({ choices }) => choices)).toEqual([2, 2]);
    expect(kinds.map((model) => readOf(model, []))).toEqual([{ mean_geoid_height: 41.5 }, { mean_geoid_height: 41.5 }]);
  });

  it('or, where one value was used for all, by what it varies about that, beside an offset', () => {
    const geoid = formsOf(models, 'geoid');
    const measured = formOf(geoid, 'one value was taken off the measured heights');
    expect([...(measured.fixed ?? [])]).toEqual([0, 0, -1.5, 0, 0, 1.5]);
    expect(measured.columns.map((column) => [...column])).toEqual([[0, 0, 1, 0, 0, 1]]);
    expect(readOf(measured, [40])).toEqual({ offset: 40 });
    expect([...(formOf(geoid, 'one value was taken off the known heights').fixed ?? [])]).toEqual([
      0, 0, 1.5, 0, 0, -1.5,
    ]);
    expect(geoid.map(({ choices }) => choices)).toEqual([3, 3]);
  });

  it('needs a geoid height wherever heights are compared, and nowhere else', () => {
    const beside = [...points, causePoint('C', { upM: null })];
    expect([...(formsOf(heightCauses(causeContext(beside)), 'height-kind')[0]?.fixed ?? [])]).toEqual([
      0, 0, 40, 0, 0, 43, 0, 0,
    ]);
    expect(formsOf(heightCauses(causeContext([...points, causePoint('C')])), 'height-kind')).toEqual([]);
    expect(heightCauses(causeContext(points.map((point) => ({ ...point, upM: null }))))).toEqual([]);
  });
});

describe('a tilted height surface', () => {
  // Four corners of a square about its middle, which is the fifth: at 60° a degree of longitude is half as long as one of latitude.
  const corners = [
    [-1, -1],
    [1, -1],
    [-1, 1],
    [1, 1],
    [0, 0],
  ] as const;
  const points = corners.map(([east, north], i) =>
    causePoint(`P${String(i)}`, { latitudeDeg: 60 + 0.01 * north, longitudeDeg: 15 + 0.02 * east }),
  );
  const tilt = 'the height surfaces are tilted against each other';

  it('is an offset and two slopes about the middle, of 1 ppm each', () => {
    const form = formOf(heightCauses(causeContext(points)), tilt);
    const heights = form.columns.map((column) => [...column].filter((_, i) => i % 3 === 2));
    expect(heights[0]).toEqual([1, 1, 1, 1, 1]);
    // A hundredth of a degree on a sphere of 6371 km; a coarse degree does for a slope of some ppm.
    const halfSideM = 0.01 * (Math.PI / 180) * 6_371_000;
    const east = [-1, 1, -1, 1, 0].map((side) => side * halfSideM * 1e-6);
    const north = [-1, -1, 1, 1, 0].map((side) => side * halfSideM * 1e-6);
    for (let i = 0; i < 5; i += 1) {
      expect(Math.abs((heights[1]?.[i] ?? Infinity) - (east[i] ?? 0))).toBeLessThan(halfSideM * 1e-9);
      expect(Math.abs((heights[2]?.[i] ?? Infinity) - (north[i] ?? 0))).toBeLessThan(halfSideM * 1e-9);
    }
    expect(form.choices).toBe(3);
    expect(form.columns.every((column) => [...column].every((value, i) => i % 3 === 2 || value === 0))).toBe(true);
  });

  it('is at most 0.3 m in a kilometre in any direction', () => {
    const form = formOf(heightCauses(causeContext(points)), tilt);
    expect(readOf(form, [9, 180, 239])).toEqual({ offset: 9, tilt_east: 180, tilt_north: 239 });
    expect(readOf(form, [9, 180, 241])).toBeNull();
    expect(form.read([1, 2, 3], [0.1, 0.2, 0.3])?.map(({ sigma }) => sigma)).toEqual([0.1, 0.2, 0.3]);
  });

  it('needs five heights', () => {
    const four = points.map((point, i) => (i === 4 ? { ...point, upM: null } : point));
    expect(heightCauses(causeContext(four)).filter(({ subject }) => subject === tilt)).toEqual([]);
    const unplaced = points.map((point, i) => (i === 4 ? { ...point, longitudeDeg: null } : point));
    expect(heightCauses(causeContext(unplaced))).toEqual([]);
  });
});
