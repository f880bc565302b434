import { AIRY_1830, CLARKE_1880_ARC, GRS80, WGS84 } from '../../ellipsoid/ellipsoid.js';
import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';

/** A geodetic frame with the codes of its systems; the codes are equivalent but for their axes. */
export interface OperationFrame {
  readonly name: string;
  readonly geographic2d: string | null;
  readonly geographic3d: string | null;
  readonly geocentric: string | null;
  readonly ellipsoid: Ellipsoid;
}

function frame(
  name: string,
  ellipsoid: Ellipsoid,
  geographic2d: number,
  geographic3d: number | null,
  geocentric: number | null,
): OperationFrame {
  const code = (n: number | null): string | null => (n === null ? null : `EPSG:${String(n)}`);
  return {
    name,
    ellipsoid,
    geographic2d: code(geographic2d),
    geographic3d: code(geographic3d),
    geocentric: code(geocentric),
  };
}

/**
 * Frames that the built-in operations join, with the registry codes of their geographic 2D,
 * geographic 3D and geocentric systems. Reference: EPSG-DB, geodetic systems.
 */
export const OPERATION_FRAMES: readonly OperationFrame[] = [
  frame('Cape', CLARKE_1880_ARC, 4222, null, null),
  frame('Hartebeesthoek94', WGS84, 4148, 4941, 4940),
  frame('WGS 84', WGS84, 4326, 4979, 4978),
  frame('OSGB36', AIRY_1830, 4277, null, null),
  frame('GDA94', GRS80, 4283, 4939, 4938),
  frame('GDA2020', GRS80, 7844, 7843, 7842),
  frame('ETRF2000', GRS80, 9067, 7931, 7930),
  frame('ETRF2014', GRS80, 9069, 8403, 8401),
  frame('KSA-GRF17', GRS80, 9333, 9332, 9331),
  frame('NAD83(2011)', GRS80, 6318, 6319, 6317),
  frame('NAD83(CSRS)v7', GRS80, 8255, 8254, 8253),
  frame('ITRF88', GRS80, 8988, 7900, 4910),
  frame('ITRF89', GRS80, 8989, 7901, 4911),
  frame('ITRF90', GRS80, 8990, 7902, 4912),
  frame('ITRF91', GRS80, 8991, 7903, 4913),
  frame('ITRF92', GRS80, 8992, 7904, 4914),
  frame('ITRF93', GRS80, 8993, 7905, 4915),
  frame('ITRF94', GRS80, 8994, 7906, 4916),
  frame('ITRF96', GRS80, 8995, 7907, 4917),
  frame('ITRF97', GRS80, 8996, 7908, 4918),
  frame('ITRF2000', GRS80, 8997, 7909, 4919),
  frame('ITRF2005', GRS80, 8998, 7910, 4896),
  frame('ITRF2008', GRS80, 8999, 7911, 5332),
  frame('ITRF2014', GRS80, 9000, 7912, 7789),
  frame('ITRF2020', GRS80, 9990, 9989, 9988),
];

/** The frame of a name in the table. Given: name. Returned: frame, or null. */
export function operationFrameNamed(name: string): OperationFrame | null {
  for (const entry of OPERATION_FRAMES) if (entry.name === name) return entry;
  return null;
}

/**
 * The frame that a system belongs to.
 *
 * Given: code such as `EPSG:4148` of a geographic or geocentric system. Returned: its frame, or
 * null where no built-in operation knows it.
 */
export function operationFrameOf(code: string): OperationFrame | null {
  for (const entry of OPERATION_FRAMES) {
    if (entry.geographic2d === code || entry.geographic3d === code || entry.geocentric === code) return entry;
  }
  return null;
}
