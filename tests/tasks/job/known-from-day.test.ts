import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import type { ReducedPoint } from '../../../src/records/points/reduced-point.js';
import { knownFromDay } from '../../../src/tasks/job/known-from-day.js';
import { valueOf } from '../../support/shift-of-row.js';

const close = (value: number, digits = 9): unknown => expect.closeTo(value, digits);
const part = (horizontalM: number, verticalM: number): object => ({ horizontalM, verticalM });

describe('a base that an earlier day measured', () => {
  const day = (points: readonly object[], own: object = {}): Parameters<typeof knownFromDay>[1] =>
    ({
      id: 'monday',
      held: points,
      setup: {
        shift: null,
        ellipsoid: GRS80,
        bases: [
          {
            settings: { inherited: [{ place: { xM: 1, yM: 2, zM: 3 }, ...part(0.007, 0.008) }] },
            identity: { setupKey: 'B0#1', markKey: 'B0', mark: part(0.01, 0.02) },
            origin: { geodetic: { latitudeDeg: 0, longitudeDeg: 0, ellipsoidalHeightM: 0 } },
          },
        ],
        ...own,
      },
    }) as unknown as Parameters<typeof knownFromDay>[1];
  const point = (own: object = {}): object => ({
    pointId: 'P',
    setupKey: 'B0#1',
    position: {
      geodetic: { latitudeDeg: 46.123_456_789_4, longitudeDeg: 10.000_000_000_6, ellipsoidalHeightM: 100.123_46 },
    },
    uncertainty: {
      total: { eeM2: 4e-6, enM2: 0, euM2: 0, nnM2: 1e-6, nuM2: 0, uuM2: 9e-6 },
    } as unknown as ReducedPoint['uncertainty'],
    ...own,
  });
  const referred = {
    id: 'B1',
    known: null,
    knownFrom: { day: 'monday', point: 'P' },
    centringSigmaM: 0.0015,
    antennaHeightSigmaM: 0.004,
  } as unknown as Parameters<typeof knownFromDay>[0];
  const made = (held: Parameters<typeof knownFromDay>[1], from = referred) => valueOf(knownFromDay(from, held));

  it('is where the point came out, as a file of points has it, with centring and antenna height in its sigmas', () => {
    expect(made(day([point()]))).toMatchObject({
      known: {
        kind: 'geodetic',
        at: 'mark',
        latitudeDeg: 46.123_456_789,
        longitudeDeg: 10.000_000_001,
        ellipsoidalHeightM: 100.1235,
      },
      // 2 and 1.5 mm make 2.5; 3 and 4 mm make 5.
      sigmaHorizontalM: close(0.0025),
      sigmaVerticalM: close(0.005),
    });
    expect(made(day([point()])).known).not.toHaveProperty('frame');
    expect(made(day([point()], { shift: {} })).known).toMatchObject({ frame: 'national' });
  });

  it('has the larger axis of the ellipse: variances of 2.5 mm² with 1.5 mm² in common make 4 mm²', () => {
    const total = { eeM2: 2.5e-6, enM2: 1.5e-6, euM2: 0, nnM2: 2.5e-6, nuM2: 0, uuM2: 9e-6 };
    expect(made(day([point({ uncertainty: { total } })])).sigmaHorizontalM).toBeCloseTo(0.0025, 9);
    const turned = { ...total, eeM2: 1e-6, enM2: 0, nnM2: 4e-6 };
    expect(made(day([point({ uncertainty: { total: turned } })])).sigmaHorizontalM).toBeCloseTo(0.0025, 9);
  });

  it('inherits the marks of the base it was measured from', () => {
    expect(made(day([point()])).inherited).toEqual([
      { place: { xM: 1, yM: 2, zM: 3 }, horizontalM: 0.007, verticalM: 0.008 },
      { place: { xM: close(6_378_137, 3), yM: close(0), zM: close(0) }, horizontalM: 0.01, verticalM: 0.02 },
    ]);
    expect(made(day([point({ setupKey: 'B9#1' })])).inherited).toEqual([]);
  });

  it('is refused where the day has no such point, or no coordinate of it', () => {
    const message = (...points: readonly object[]): string | undefined => {
      const outcome = knownFromDay(referred, day(points));
      return outcome.ok ? undefined : outcome.problems[0]?.message;
    };
    expect(message()).toBe('base B1: day monday has no point P that could be its coordinate');
    expect(message(point({ pointId: 'Q' }))).toContain('has no point P');
    expect(message(point({ position: null }))).toContain('has no occupation of P');
    // The other occupation counts.
    expect(message(point({ position: null }), point())).toBeUndefined();
  });
});
