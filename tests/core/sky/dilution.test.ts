import { describe, expect, it } from 'vitest';
import { dilution } from '../../../src/core/sky/dilution.js';
import type { Dilution } from '../../../src/records/sky/site-sky.js';
import { entryAt } from '../../../src/records/present.js';
import { seededRandom } from '../../support/seeded-random.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

const NAMES = ['hdop', 'vdop', 'pdop', 'tdop', 'gdop'] as const;

interface Seen {
  readonly azimuthDeg: number;
  readonly elevationDeg: number;
  readonly system: number;
}

function dilutionOf(seen: readonly Seen[]): Dilution | null {
  const units = Float64Array.from(
    seen.flatMap(({ azimuthDeg, elevationDeg }) => {
      const [az, el] = [(azimuthDeg * Math.PI) / 180, (elevationDeg * Math.PI) / 180];
      return [Math.cos(el) * Math.sin(az), Math.cos(el) * Math.cos(az), Math.sin(el)];
    }),
  );
  return dilution(
    units,
    seen.map(({ system }) => system),
    seen.length,
    5,
  );
}

describe('dilution', () => {
  for (const row of readReferenceTable('sky-dop').filter((one) => one.text('azimuths_deg') !== ''))
    it(`is that of ${row.case}`, () => {
      const [azimuths, elevations] = [row.numbers('azimuths_deg'), row.numbers('elevations_deg')];
      const seen = row
        .text('systems')
        .split(' ')
        .map((letter, index) => ({
          azimuthDeg: entryAt(azimuths, index),
          elevationDeg: entryAt(elevations, index),
          system: 'GREC'.indexOf(letter),
        }));
      const found = dilutionOf(seen);
      for (const name of NAMES)
        expect(Math.abs((found?.[name] ?? NaN) - row.number(name)), name).toBeLessThanOrEqual(row.tolerance);
    });

  const random = seededRandom(7);
  const some: readonly Seen[] = Array.from({ length: 14 }, (_, index) => ({
    azimuthDeg: 360 * random.next(),
    elevationDeg: random.between(5, 85),
    system: index % 3,
  }));

  it('does not change where the azimuths turn together', () => {
    const still = dilutionOf(some);
    for (const turn of [17, 90, 211.5]) {
      const turned = dilutionOf(some.map((one) => ({ ...one, azimuthDeg: one.azimuthDeg + turn })));
      for (const name of NAMES) expect(turned?.[name]).toBeCloseTo(still?.[name] ?? NaN, 10);
    }
  });

  it('does not change with the order of the satellites, nor with the numbers of the constellations', () => {
    const still = dilutionOf(some);
    const other = dilutionOf(some.toReversed().map((one) => ({ ...one, system: 4 - one.system })));
    for (const name of NAMES) expect(other?.[name]).toBeCloseTo(still?.[name] ?? NaN, 10);
  });

  it('never grows in position where a satellite comes to a constellation that is there', () => {
    for (let count = 8; count < some.length; count += 1) {
      const [fewer, more] = [dilutionOf(some.slice(0, count)), dilutionOf(some.slice(0, count + 1))];
      expect(more?.pdop).toBeLessThanOrEqual((fewer?.pdop ?? NaN) + 1e-12);
    }
  });

  it('is none of fewer satellites than three and one for each constellation', () => {
    expect(dilutionOf(some.slice(0, 5))).toBeNull();
    expect(dilutionOf(some.filter(({ system }) => system === 0).slice(0, 3))).toBeNull();
  });

  it('is none of satellites on a cone about the zenith, which do not tell the height from the clock', () => {
    const cone = [10, 80, 150, 240, 300].map((azimuthDeg) => ({ azimuthDeg, elevationDeg: 40, system: 0 }));
    expect(dilutionOf(cone)).toBeNull();
  });
});
