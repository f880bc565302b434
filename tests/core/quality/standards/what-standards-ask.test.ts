import { describe, expect, it } from 'vitest';
import { ACCURACY_CLASSES_M, accuracyClass, STANDARDS } from '../../../../src/core/quality/standards/standards.js';

const standard = (id: string) => STANDARDS.find((one) => one.id === id);

describe('what standards ask of fixes and repeats', () => {
  // NGS-RT-2011, chapter V, class table; from memory: the second list of its values, written apart from the first.
  it.each([
    ['single-base-rt1', 2, 7, 10, 180, 2, 4, 2],
    ['single-base-rt2', 3, 6, 15, 60, 2, 4, 1],
    ['single-base-rt3', 4, 5, 20, 15, 1, 0, 1],
    ['single-base-rt4', 6, 5, null, 10, 1, 0, 1],
  ])('%s', (id, pdop, satellites, baselineKm, seconds, occupations, hoursApart, bases) => {
    expect(standard(id)?.acceptance).toEqual({
      maxPdop: pdop,
      minSatellites: satellites,
      maxBaselineM: baselineKm === null ? null : baselineKm * 1000,
      minDurationS: seconds,
      minOccupations: occupations,
      minSeparationS: hoursApart * 3600,
      minBases: bases,
    });
    expect(standard(id)?.asks.join('; ').includes('4 hours apart')).toBe(hoursApart === 4);
  });

  // NGS-58, second hand: every point twice, at another time of day, which is three hours here.
  it.each(['heights-5cm', 'heights-2cm'])('%s', (id) => {
    expect(standard(id)?.acceptance).toEqual({
      maxPdop: null,
      minSatellites: null,
      maxBaselineM: null,
      minDurationS: null,
      minOccupations: 2,
      minSeparationS: 3 * 3600,
      minBases: 1,
    });
  });

  it('states limits at 95 %, without what a rule of one constant has not', () => {
    for (const { kind, rules } of STANDARDS) {
      expect(rules.length > 0).toBe(kind === 'limits');
      for (const rule of rules)
        expect(rule).toMatchObject({ probability: 0.95, distanceOffsetM: 0, perRootKmM: 0, floorM: null });
    }
  });

  // FGDC-STD-007.2, table 2.1: 1, 2 and 5 of each decade from a millimetre to ten metres; from memory.
  it('sorts a figure into the smallest class that holds it', () => {
    const classes = [-3, -2, -1, 0].flatMap((decade) => [1, 2, 5].map((size) => size * 10 ** decade)).concat(10);
    expect(ACCURACY_CLASSES_M).toEqual(classes.map((size) => expect.closeTo(size, 12) as unknown));
    expect(accuracyClass(0.02)).toBe(0.02);
    expect(accuracyClass(0.020_000_1)).toBe(0.05);
    expect(accuracyClass(10.1)).toBeNull();
  });
});
