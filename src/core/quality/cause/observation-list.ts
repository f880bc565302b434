import { RADIANS_PER_DEGREE } from '../../numeric/angle-units.js';
import type { LocalVector } from '../../../records/points/point.js';
import type { CauseDay, CausePoint } from './cause-day.js';

/** Which point and axis (0 grid east, 1 grid north, 2 up) each compared value belongs to. */
export interface ObservationList {
  readonly count: number;
  readonly pointOf: Int32Array;
  readonly axisOf: Int32Array;
  readonly values: Float64Array;
  /** First observation of a point, and how many; a point without any has count 0. */
  readonly startOf: Int32Array;
}

/** The compared values of a day, point by point. */
export function observationList(day: CauseDay): ObservationList {
  const points: number[] = [];
  const axes: number[] = [];
  const values: number[] = [];
  const starts: number[] = [];
  day.points.forEach((point, index) => {
    starts.push(values.length);
    [point.eastM, point.northM, point.upM].forEach((value, axis) => {
      if (value === null) return;
      points.push(index);
      axes.push(axis);
      values.push(value);
    });
  });
  starts.push(values.length);
  return {
    count: values.length,
    pointOf: Int32Array.from(points),
    axisOf: Int32Array.from(axes),
    values: Float64Array.from(values),
    startOf: Int32Array.from(starts),
  };
}

/** A pattern over all observations from its value at each point, along grid east, grid north and up. */
export function gridPattern(
  day: CauseDay,
  list: ObservationList,
  at: (point: CausePoint, index: number) => LocalVector | null,
): Float64Array | null {
  const vectors: (LocalVector | null)[] = day.points.map(at);
  const pattern = new Float64Array(list.count);
  for (let i = 0; i < list.count; i += 1) {
    const vector = vectors[list.pointOf[i] as number];
    if (vector === null || vector === undefined) return null;
    const axis = list.axisOf[i];
    pattern[i] = axis === 0 ? vector.eastM : axis === 1 ? vector.northM : vector.upM;
  }
  return pattern;
}

/**
 * A true local vector along the axes of the grid: turned by the convergence (grid bearing = azimuth − convergence) and
 * stretched by the point scale factor.
 */
export function toGridAxes(point: CausePoint, vector: LocalVector): LocalVector {
  const gamma = point.convergenceDeg * RADIANS_PER_DEGREE;
  const k = point.pointScaleFactor;
  const c = Math.cos(gamma);
  const s = Math.sin(gamma);
  return {
    eastM: k * (vector.eastM * c - vector.northM * s),
    northM: k * (vector.eastM * s + vector.northM * c),
    upM: vector.upM,
  };
}
