import { describe, expect, it } from 'vitest';
import { eccentricAnomaly } from '../../../src/core/sky/kepler-equation.js';
import { keplerPlace } from '../../../src/core/sky/kepler-place.js';
import { statePlaces } from '../../../src/core/sky/state-places.js';
import { entryAt } from '../../../src/records/present.js';
import type { SkySystem, StateElements } from '../../../src/records/sky/orbit-elements.js';
import { keplerElements } from '../../support/kepler-elements.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import type { ReferenceRow } from '../../support/read-reference-table.js';

const SYSTEMS: Readonly<Record<string, SkySystem>> = { G: 'GPS', E: 'Galileo', C: 'BeiDou', J: 'QZSS', R: 'GLONASS' };

function stateOf(numbers: readonly number[]): StateElements {
  const at = (index: number): number => entryAt(numbers, index);
  return {
    ...{ kind: 'state', satellite: 'R03', system: 'GLONASS', origin: 'broadcast', isHealthy: true, referenceMs: 0 },
    ...{ xM: at(0), yM: at(1), zM: at(2), vxMPerS: at(3), vyMPerS: at(4), vzMPerS: at(5) },
    ...{ axMPerS2: at(6), ayMPerS2: at(7), azMPerS2: at(8) },
  };
}

function placeOf(row: ReferenceRow): Float64Array {
  const ms = 1000 * row.number('seconds');
  const numbers = row.numbers('elements');
  const system = SYSTEMS[row.text('system')] ?? 'GPS';
  if (system === 'GLONASS') return statePlaces(stateOf(numbers), [ms]);
  const into = new Float64Array(3);
  keplerPlace(keplerElements(numbers, { system, isGeostationary: row.text('geostationary') === 'yes' }), ms, into, 0);
  return into;
}

describe('places of satellites', () => {
  for (const row of readReferenceTable('sky-orbits'))
    it(`are those of ${row.case}`, () => {
      const place = placeOf(row);
      for (const [axis, column] of ['x_m', 'y_m', 'z_m'].entries())
        expect(Math.abs(entryAt(place, axis) - row.number(column)), column).toBeLessThanOrEqual(row.tolerance);
    });

  it('come out the same for instants in any order and one by one', () => {
    const row = readReferenceTable('sky-orbits').find(({ case: name }) => name.startsWith('R03'));
    if (row === undefined) throw new Error('there is no row of R03');
    const state = stateOf(row.numbers('elements'));
    const instants = [600_000, -300_000, 0, 1_800_000, -900_000, 30_000];
    const together = statePlaces(state, instants);
    for (const [index, ms] of instants.entries()) {
      const alone = statePlaces(state, [ms]);
      for (let axis = 0; axis < 3; axis += 1)
        expect(Math.abs(entryAt(together, 3 * index + axis) - entryAt(alone, axis))).toBeLessThan(1e-4);
    }
  });
});

describe('eccentricAnomaly', () => {
  for (const row of readReferenceTable('sky-kepler'))
    it(`solves ${row.case}`, () => {
      const found = eccentricAnomaly((row.number('mean_anomaly_deg') * Math.PI) / 180, row.number('eccentricity'));
      expect(Math.abs((found * 180) / Math.PI - row.number('eccentric_anomaly_deg'))).toBeLessThanOrEqual(
        row.tolerance,
      );
    });

  it('gives back the mean anomaly over the whole turn, for any eccentricity below 1', () => {
    for (const eccentricity of [0, 0.001, 0.02, 0.3, 0.7, 0.97])
      for (let mean = -400; mean <= 400; mean += 7) {
        const anomaly = eccentricAnomaly((mean * Math.PI) / 180, eccentricity);
        const back = anomaly - eccentricity * Math.sin(anomaly);
        expect(Math.abs(back - (mean * Math.PI) / 180)).toBeLessThan(4e-15 * Math.max(1, Math.abs(back)));
      }
  });
});
