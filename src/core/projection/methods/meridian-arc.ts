import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import type { ProjectionEngine } from '../projection-engine.js';
import { createTransverseMercator } from './transverse-mercator.js';

/**
 * The length of the meridian from a latitude of origin: the northing, metres, of a transverse Mercator projection of scale 1 on its
 * central meridian, which is longitude 0; the inverse gives the latitude back. Given: the ellipsoid; the origin, radians.
 * Reference: KARNEY-2011, the series of `createTransverseMercator`.
 */
export function createMeridianArc(ellipsoid: Ellipsoid, latitudeOfOriginRad: number): ProjectionEngine {
  return createTransverseMercator(ellipsoid, {
    latitudeOfOriginRad,
    centralMeridianRad: 0,
    scaleFactor: 1,
    falseEastingM: 0,
    falseNorthingM: 0,
  });
}
