import type { Ellipsoid } from '../../src/core/ellipsoid/ellipsoid.js';
import * as ellipsoids from '../../src/core/ellipsoid/ellipsoid.js';

const BY_NAME: Readonly<Record<string, Ellipsoid>> = {
  WGS84: ellipsoids.WGS84,
  GRS80: ellipsoids.GRS80,
  BESSEL_1841: ellipsoids.BESSEL_1841,
  INTERNATIONAL_1924: ellipsoids.INTERNATIONAL_1924,
  CLARKE_1880_ARC: ellipsoids.CLARKE_1880_ARC,
  CLARKE_1866: ellipsoids.CLARKE_1866,
  AIRY_1830: ellipsoids.AIRY_1830,
};

/** The ellipsoid that a reference table names; throws for an unknown name. */
export function namedEllipsoid(name: string): Ellipsoid {
  const found = BY_NAME[name];
  if (found === undefined) throw new Error(`no ellipsoid is called ${name}`);
  return found;
}
