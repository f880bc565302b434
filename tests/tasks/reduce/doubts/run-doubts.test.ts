import { describe, expect, it } from 'vitest';
import { createHeightEnds } from '../../../../src/core/quality/height-ends.js';
import type { PreparedBase } from '../../../../src/tasks/bases/prepare-bases.js';
import type { ReducedOccupation } from '../../../../src/tasks/reduce/reduction-working.js';
import type { ReductionSetup } from '../../../../src/tasks/reduce/reduction-setup.js';
import { farHeightWarning, steepWarning } from '../../../../src/tasks/reduce/doubts/height-doubts.js';
import { createSeparationWatch } from '../../../../src/tasks/reduce/doubts/separation-doubt.js';

const METRES_PER_FOOT = 0.3048;
const GROUND = [737.9, 741.2, 729.4, 744.8, 733.3, 738.1, 735.6, 740];

function far(points: readonly number[], bases: readonly number[] = []): string | null {
  const ends = createHeightEnds();
  points.forEach((heightM, index) => ends.add(`P${String(index)}`, heightM));
  // Of a base only its name and height are asked for.
  const own = bases.map((ellipsoidalHeightM, index) => ({
    settings: { id: `B${String(index)}` },
    origin: { geodetic: { ellipsoidalHeightM } },
  })) as unknown as readonly PreparedBase[];
  const problem = farHeightWarning(ends.part(), own);
  return problem === null ? null : `${problem.message} | ${String(problem.hint)}`;
}

describe('heights of a run that lie far from the others', () => {
  const HEIGHT = 'check the height, its kind and the antenna height';
  const UNIT = 'check the unit of the heights: they are read in metres';
  const OTHERS = (count: number): string =>
    `far from the ${String(count)} others, which lie between 729.4 m and 744.8 m above the ellipsoid`;

  it('says nothing of ground alone, a base on it among the points', () => {
    expect(far(GROUND, [736])).toBeNull();
  });

  it('names a far base, and a far point in feet by its unit', () => {
    expect(far(GROUND, [1200])).toBe(`base B0 at 1200.0 m: ${OTHERS(8)} | ${HEIGHT}`);
    expect(far([...GROUND, 735 / METRES_PER_FOOT])).toBe(
      `P8 at 2411.4 m: ${OTHERS(8)}; taken for feet they lie among the others | ${UNIT}`,
    );
    expect(far([735 * METRES_PER_FOOT], GROUND)).toBe(
      `P0 at 224.0 m: ${OTHERS(8)}; they lie among the others if those are in feet | ${UNIT}`,
    );
  });

  it('names three of them, the farthest first, and counts the rest', () => {
    expect(far([...GROUND, ...GROUND.slice(0, 3), 1301, 1302, 1303])).toBe(
      `P13 at 1303.0 m, P12 at 1302.0 m, P11 at 1301.0 m: ${OTHERS(11)} | ${HEIGHT}`,
    );
    expect(far([...GROUND, ...GROUND.slice(0, 3), 1301, 1302, 1303, 1304, 1305])).toBe(
      `P15 at 1305.0 m, P14 at 1304.0 m, P13 at 1303.0 m and 2 more: ${OTHERS(11)} | ${HEIGHT}`,
    );
  });
});

describe('the steepest line from a base', () => {
  it('is doubted beyond 45°, in per cent', () => {
    expect(steepWarning(null)).toBeNull();
    expect(steepWarning({ value: 1, pointId: 'P' })).toBeNull();
    expect(steepWarning({ value: 1.25, pointId: 'P' })?.message).toBe('point P: a slope of 125 % from its base');
  });
});

/** An occupation whose receiver wrote this separation where the model gives that geoid height. */
const occupation = (pointId: string, separationM: number | undefined, geoidHeightM: number | null): ReducedOccupation =>
  ({
    point: { pointId },
    working: {
      epochs: [{ fix: { separationM, place: { sourceIndex: 0, line: 7 } } }],
      position: { geoidHeightM },
    },
  }) as unknown as ReducedOccupation;

describe('geoid separations of a log', () => {
  const setup = { sources: ['day.nmea'], geoid: { grid: { name: 'the model' } } } as unknown as ReductionSetup;
  const said = (...occupations: readonly ReducedOccupation[]): string | null => {
    const watch = createSeparationWatch(setup);
    for (const one of occupations) watch.add(one);
    return watch.warning()?.message ?? null;
  };
  const MORE = (count: number): string => `; ${String(count)} occupations differ by more than 3 m, this one most`;

  // Three metres are our limit: receivers carry coarse grids. Common practice, no published source.
  it.each<readonly [string, readonly ReducedOccupation[], string | null]>([
    ['none is written', [occupation('A', undefined, 45)], null],
    ['none can be compared', [occupation('A', 45, null)], null],
    ['it differs by as much as a coarse grid may', [occupation('A', 48, 45), occupation('B', 42, 45)], null],
    [
      'it differs by more',
      [occupation('A', 48.1, 45)],
      "point A: the receiver's geoid separation is 48.100 m and the model gives 45.000 m, a difference of 3.100 m",
    ],
    [
      'it has the other sign',
      [occupation('A', -44, 45)],
      "point A: the receiver's geoid separation is -44.000 m and the model gives 45.000 m, the same with the other sign",
    ],
    [
      'several differ: the worst is named',
      [occupation('A', 49, 45), occupation('B', 40, 45), occupation('C', 48.5, 45), occupation('D', 46, 45)],
      `point B: the receiver's geoid separation is 40.000 m and the model gives 45.000 m, a difference of -5.000 m${MORE(3)}`,
    ],
    [
      'one has the other sign and one does not: no sign is blamed',
      [occupation('A', -45, 45), occupation('B', 49, 45)],
      `point A: the receiver's geoid separation is -45.000 m and the model gives 45.000 m, a difference of -90.000 m${MORE(2)}`,
    ],
    [
      'the second is worse',
      [occupation('A', 48.5, 45), occupation('B', 41, 45)],
      `point B: the receiver's geoid separation is 41.000 m and the model gives 45.000 m, a difference of -4.000 m${MORE(2)}`,
    ],
  ])('are said where %s', (_, occupations, expected) => {
    expect(said(...occupations)).toBe(expected);
  });
});
