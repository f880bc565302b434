import { readFileSync } from 'node:fs';
import type { Network, VectorObservation } from '../../../src/core/network/network.js';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import type { GeocentricPoint } from '../../../src/records/points/point.js';

/** A network of nothing yet, to be spread into. */
export const EMPTY: Network = {
  ellipsoid: GRS80,
  vectors: [],
  levelled: [],
  distances: [],
  control: [],
  shared: [],
  geoidHeightM: new Map(),
  geoidError: null,
};

/** X, Y, Z as a point. */
export function at(xM: number, yM: number, zM: number): GeocentricPoint {
  return { xM, yM, zM };
}

/** A control point held fixed. */
export function fixed(id: string, position: GeocentricPoint): Network['control'][number] {
  return { id, position, orthometricHeightM: null, held: 'fixed', covariance: null, heightVarianceM2: null };
}

/** The thirteen vectors of the published network of six stations. */
export function thirteenVectors(): readonly VectorObservation[] {
  const [, ...lines] = readFileSync(new URL('thirteen-vectors.csv', import.meta.url), 'utf8')
    .trim()
    .split('\n');
  return lines.map((line) => {
    const [fromId = '', toId = '', ...rest] = line.split(',');
    const [dx, dy, dz, xx, xy, xz, yy, yz, zz] = rest.map(Number) as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    return { fromId, toId, difference: at(dx, dy, dz), covariance: { xx, xy, xz, yy, yz, zz }, shared: [] };
  });
}

export const STATION_A: GeocentricPoint = at(402.35087, -4652995.30109, 4349760.77753);
export const STATION_B: GeocentricPoint = at(8086.03178, -4642712.84739, 4360439.08326);
