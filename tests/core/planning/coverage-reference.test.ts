import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { coverageRing } from '../../../src/core/planning/coverage/coverage-ring.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

const geodesic = createGeodesic(WGS84);

describe('coverage rings against GeodSolve', () => {
  for (const row of readReferenceTable('coverage')) {
    it(`${row.case} is a vertex of the ring`, () => {
      const base = { latitudeDeg: row.number('base_latitude_deg'), longitudeDeg: row.number('base_longitude_deg') };
      const ring = coverageRing(geodesic, base, row.number('radius_m'), 8);
      if (!ring.ok) throw new Error('no ring');
      const gaps = ring.value.rings
        .flat()
        .map((place) =>
          Math.max(
            Math.abs(place.latitudeDeg - row.number('latitude_deg')),
            Math.abs(place.longitudeDeg - row.number('longitude_deg')),
          ),
        );
      expect(Math.min(...gaps)).toBeLessThan(row.tolerance);
    });
  }
});
