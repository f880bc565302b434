import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { createGeoidHeight } from '../../../src/core/geoid/geoid-height.js';
import { geodesicLines } from '../../../src/tasks/explain/lines/geodesic-lines.js';
import { geoidLines } from '../../../src/tasks/explain/lines/geoid-lines.js';
import { placeLine } from '../../../src/tasks/explain/projection/grid-lines.js';
import { INPUT_ANGLE, given } from '../../../src/tasks/explain/lines/worked-lines.js';
import { readGeoidFile } from '../../../src/files/grids/read-geoid-file.js';
import { readExplanation } from '../../support/explanation/read-explanation.js';
import { seededRandom } from '../../support/seeded-random.js';
import { valueOf } from '../../support/shift-of-row.js';

/** What of some printed lines does not come out in decimal arithmetic, and which names were computed. */
function again(lines: readonly string[]): { readonly wrong: readonly string[]; readonly computed: readonly string[] } {
  const [step] = readExplanation(['1. Lines', ...lines.map((line) => `     ${line}`)].join('\n'));
  return { wrong: step?.wrong ?? ['no step'], computed: step?.computed ?? [] };
}

describe('lines of a worked explanation', () => {
  it('give the geodesic of places anywhere, from a metre to 100 km apart, as Karney’s algorithm does', () => {
    // VINCENTY-1975, equations 13 to 18, 20, against KARNEY-2013 as the geodesic library has it.
    const random = seededRandom(20261129);
    const geodesic = createGeodesic(WGS84);
    let written = 0;
    for (let pair = 0; pair < 300; pair += 1) {
      const from = { latitudeDeg: random.between(-80, 80), longitudeDeg: random.between(-179, 179) };
      const reachDeg = 10 ** random.between(-5, 0) / 2;
      const to = {
        latitudeDeg: from.latitudeDeg + random.between(-reachDeg, reachDeg),
        longitudeDeg: from.longitudeDeg + random.between(-reachDeg, reachDeg),
      };
      const { distanceM } = geodesic.inverse(from.latitudeDeg, from.longitudeDeg, to.latitudeDeg, to.longitudeDeg);
      const { wrong, computed } = again([
        given('φ_b', from.latitudeDeg, INPUT_ANGLE),
        given('λ_b', from.longitudeDeg, INPUT_ANGLE),
        given('φ', to.latitudeDeg, INPUT_ANGLE),
        given('λ', to.longitudeDeg, INPUT_ANGLE),
        ...geodesicLines(WGS84, from, to, distanceM, { from: '_b', to: '' }),
      ]);
      expect(wrong, `${JSON.stringify(from)} ${JSON.stringify(to)}`).toEqual([]);
      if (computed.includes('distance')) written += 1;
    }
    expect(written).toBe(300);
  });

  it.each(['bilinear', 'biquadratic', 'bicubic'] as const)(
    'give a geoid height where the grid’s longitudes go on over its edge: %s',
    async (interpolation) => {
      const geoid = valueOf(createGeoidHeight(valueOf(await readGeoidFile('egm96')), interpolation));
      for (const [latitudeDeg, longitudeDeg] of [
        [-31.52, 21.43],
        [48.51, -0.1],
        [0.02, 359.93],
        [12.3, -179.97],
        [-89.95, 100],
      ] as const) {
        const heightM = geoid.heightAt(latitudeDeg, longitudeDeg) ?? Number.NaN;
        const { wrong, computed } = again([
          placeLine(latitudeDeg, longitudeDeg),
          ...geoidLines(geoid, latitudeDeg, longitudeDeg, heightM),
        ]);
        expect(wrong, `${String(latitudeDeg)} ${String(longitudeDeg)}`).toEqual([]);
        expect(computed).toContain('N');
      }
    },
  );
});
