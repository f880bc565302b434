import { describe, expect, it } from 'vitest';
import type { Fix } from '../../../../src/records/points/fix.js';
import { CELL_M, createAvailability } from '../../../../src/tasks/corrections/link/availability.js';
import { createOutages } from '../../../../src/tasks/corrections/link/outages.js';
import type { EpochStanding } from '../../../../src/tasks/corrections/link/outages.js';
import type { LinkOutage } from '../../../../src/records/corrections/link-report.js';
import { makeFix } from '../../../core/observation/make-fix.js';

const HOUR = 3_600_000;
const DAY = Date.UTC(2026, 2, 4);
const close = (value: number, digits = 9): unknown => expect.closeTo(value, digits);

describe('the availability of corrections', () => {
  it('counts epochs by hour: within 2, 5 and 10 s to the second, and those without any', () => {
    const count = createAvailability();
    for (const ageS of [2, 2.1, 5, 5.1, 10, 10.1, null]) count.add(ageS, DAY + HOUR, 0, 0);
    count.add(1, DAY + 2 * HOUR - 1, 0, 0);
    count.add(1, DAY, 0, 0);
    count.add(1, null, 0, 0);
    const hours = count.hours();
    expect(hours.map(({ fromMs, epochs }) => [fromMs, epochs])).toEqual([
      [DAY, 1],
      [DAY + HOUR, 8],
    ]);
    expect(hours[1]?.shares.map(({ ageS, count: own, share }) => [ageS, own, share])).toEqual([
      [2, 2, 2 / 8],
      [5, 4, 4 / 8],
      [10, 6, 6 / 8],
    ]);
    // Wilson's interval of 4 of 8 is about a half: 0.5 ± 1.95996·√(0.25/8 + 3.84146/256)/(1 + 3.84146/8).
    expect(hours[1]?.shares[1]).toMatchObject({ low: close(0.2152, 4), high: close(0.7848, 4) });
    // One without a time is of no hour, and of its cell.
    expect(count.cells().listed[0]?.epochs).toBe(10);
  });

  it('has squares of a hundred metres about the first place, from south to north and from west to east', () => {
    const count = createAvailability();
    // A hundred metres at 46° N on GRS 80: 111,151.3 m a degree of the meridian, 77,463.3 m of the parallel.
    const [north, east] = [CELL_M / 111_151.3, CELL_M / 77_463.3];
    const at = (rows: number, columns: number): void => {
      count.add(1, null, 46 + rows * north, 10 + columns * east);
    };
    at(0, 0);
    at(0.49, -0.49);
    at(1, 0);
    at(-0.51, 0);
    at(0, 0.51);
    at(-0.51, -0.6);
    const { listed, leftOut } = count.cells();
    expect(leftOut).toBe(0);
    expect(
      listed.map(({ southDeg, westDeg, epochs }) => [
        Math.floor((southDeg - 46) / north + 0.75),
        Math.floor((westDeg - 10) / east + 0.75),
        epochs,
      ]),
    ).toEqual([
      [-1, -1, 1],
      [-1, 0, 1],
      [0, 0, 2],
      [0, 1, 1],
      [1, 0, 1],
    ]);
    const own = listed[2];
    expect(own).toMatchObject({
      southDeg: close(46 - north / 2, 7),
      northDeg: close(46 + north / 2, 7),
      westDeg: close(10 - east / 2, 7),
      eastDeg: close(10 + east / 2, 7),
    });
  });

  it('is one cell around a pole, and counts the cells that are too many', () => {
    const pole = createAvailability();
    for (const longitudeDeg of [0, 90, 179]) pole.add(1, null, 90, longitudeDeg);
    expect(pole.cells().listed).toHaveLength(1);
    const many = createAvailability();
    for (let row = 0; row < 20_002; row += 1) many.add(1, null, row * 0.001, 0);
    many.add(1, null, 20_001 * 0.001, 0);
    many.add(1, null, 0, 0);
    expect(many.cells().listed).toHaveLength(20_000);
    expect(many.cells().leftOut).toBe(2);
    expect(many.cells().listed[0]?.epochs).toBe(2);
    // As many as are kept are counted at most.
    for (let row = 20_002; row < 40_005; row += 1) many.add(1, null, row * 0.001, 0);
    expect(many.cells().leftOut).toBe(20_000);
  });
});

describe('outages of a link', () => {
  type Epoch = readonly [second: number, standing: EpochStanding, own?: Partial<Fix>];
  const outages = (...files: readonly (readonly Epoch[])[]): readonly LinkOutage[] => {
    const count = createOutages();
    for (const [file, epochs] of files.entries()) {
      count.begin(`file ${String(file)}`);
      for (const [second, standing, own] of epochs)
        count.add(makeFix({ correctionAgeS: 1, ...own }), DAY + second * 1000, standing);
    }
    return count.result().listed;
  };
  const times = (...files: readonly (readonly Epoch[])[]): unknown =>
    outages(...files).map(({ source, fromMs, toMs, isEnded, epochs }) => [
      source,
      (fromMs - DAY) / 1000,
      (toMs - DAY) / 1000,
      isEnded,
      epochs,
    ]);

  it('last longer than five seconds, to the first good epoch', () => {
    expect(
      times([
        [0, 'good'],
        [1, 'without'],
        [6, 'good'],
      ]),
    ).toEqual([]);
    expect(
      times([
        [0, 'good'],
        [1, 'without'],
        [2, 'unfixed'],
        [6.1, 'good'],
        [7, 'good'],
      ]),
    ).toEqual([['file 0', 1, 6.1, true, 2]]);
  });

  it('end with their last epoch where none is good behind it: at the end, before a gap, before a step back, in the next file', () => {
    expect(
      times([
        [0, 'without'],
        [10, 'without'],
      ]),
    ).toEqual([['file 0', 0, 10, false, 2]]);
    expect(
      times([
        [0, 'without'],
        [10, 'without'],
        [70, 'good'],
      ]),
    ).toEqual([['file 0', 0, 70, true, 2]]);
    expect(
      times([
        [0, 'without'],
        [10, 'without'],
        [70.1, 'good'],
      ]),
    ).toEqual([['file 0', 0, 10, false, 2]]);
    expect(
      times([
        [0, 'without'],
        [10, 'without'],
        [10, 'without'],
        [9, 'good'],
      ]),
    ).toEqual([['file 0', 0, 10, false, 3]]);
    expect(
      times(
        [
          [0, 'without'],
          [10, 'without'],
        ],
        [
          [11, 'without'],
          [18, 'good'],
        ],
      ),
    ).toEqual([
      ['file 0', 0, 10, false, 2],
      ['file 1', 11, 18, true, 1],
    ]);
  });

  it('say the oldest correction, from when on there were none, and whether there were any', () => {
    const made = (ages: readonly (number | null)[], standings: readonly EpochStanding[]): LinkOutage | undefined =>
      outages(
        standings.map((standing, index): Epoch => [3 * index, standing, { correctionAgeS: ages[index] ?? null }]),
      )[0];
    expect(made([4, 30, 12], ['without', 'without', 'without'])).toMatchObject({
      largestAgeS: 30,
      silentFromMs: DAY - 4000,
      side: 'unknown',
    });
    expect(made([null, 2, null], ['unfixed', 'unfixed', 'unfixed'])).toMatchObject({
      largestAgeS: 2,
      silentFromMs: null,
      side: 'none',
    });
    expect(made([null, null, null], ['unfixed', 'without', 'unfixed'])).toMatchObject({
      largestAgeS: null,
      side: 'unknown',
    });
  });

  it('name fifty of their points, and are named a thousand times', () => {
    const points = outages(
      Array.from({ length: 53 }, (_, index): Epoch => [index, 'without', { pointId: `P${String(index % 52)}` }]),
    )[0]?.points;
    expect(points?.listed).toHaveLength(50);
    expect(points?.leftOut).toBe(2);
    const count = createOutages();
    count.begin('a');
    for (let index = 0; index < 1003; index += 1) {
      count.add(makeFix({}), DAY + index * 20_000, 'without');
      count.add(makeFix({}), DAY + index * 20_000 + 6000, 'good');
    }
    const result = count.result();
    expect([result.listed.length, result.leftOut]).toEqual([1000, 3]);
  });
});
