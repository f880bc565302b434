import { describe, expect, it } from 'vitest';
import { createHeightEnds } from '../../../src/core/quality/height-ends.js';
import type { FarHeights } from '../../../src/core/quality/height-ends.js';
import { seededRandom } from '../../support/seeded-random.js';

const METRES_PER_FOOT = 0.3048;

function farOf(heights: readonly number[]): FarHeights | null {
  const ends = createHeightEnds();
  heights.forEach((heightM, index) => ends.add(String(index), heightM));
  return ends.far();
}

const GROUND = [737.9, 741.2, 729.4, 744.8, 733.3, 738.1, 735.6, 740.0];

describe('heights that lie far from all others', () => {
  it('names one in feet among metres, one in metres among feet, several together, and leaves none named in clean ground', () => {
    expect(farOf(GROUND)).toBeNull();
    expect(farOf([...GROUND, 737.9 / METRES_PER_FOOT])).toMatchObject({
      far: [{ id: '8' }],
      inFeet: 'far',
      others: 8,
      lowestM: 729.4,
      highestM: 744.8,
    });
    expect(farOf([...GROUND.map((height) => height / METRES_PER_FOOT), 737.9])).toMatchObject({
      far: [{ id: '8' }],
      inFeet: 'others',
    });
    expect(farOf([...GROUND, 731 / METRES_PER_FOOT, 743 / METRES_PER_FOOT])?.far.map(({ id }) => id)).toEqual([
      '9',
      '8',
    ]);
  });
  it('says of a height that no unit explains only that it is far, from 200 m on', () => {
    expect(farOf([...GROUND, 0])).toMatchObject({ far: [{ id: '8' }], inFeet: null });
    expect(farOf([...GROUND, 940])).toBeNull();
    expect(farOf([...GROUND, 1000])).toMatchObject({ inFeet: null });
  });
  it('takes flat ground in feet by ten metres and less by none', () => {
    const flat = [12.1, 12.2, 12.4, 12.3, 12.2, 12.1];
    expect(farOf([...flat, 12.2 / METRES_PER_FOOT])).toMatchObject({ inFeet: 'far' });
    expect(farOf([...flat, 12.2 + 20])).toBeNull();
    expect(farOf([1.1, 1.2, 1.4, 1.3, 1.2, 1.1, 1.2 / METRES_PER_FOOT])).toBeNull();
  });
  it('needs five others, and more than twice as many as the far ones', () => {
    expect(farOf([737, 738, 739, 740, 2420])).toBeNull();
    expect(farOf([737, 738, 739, 740, 741, 2420])).not.toBeNull();
    expect(farOf([737, 738, 739, 740, 741, 742, 2420, 2421, 2422])).toBeNull();
    expect(farOf([737, 738, 739, 740, 741, 742, 743, 2420, 2421, 2422])?.far).toHaveLength(3);
  });
  it('says the same of parts put together, in any order', () => {
    const random = seededRandom(20261128);
    for (let run = 0; run < 200; run += 1) {
      const heights = Array.from({ length: 40 }, () => 700 + 50 * random.next());
      for (let far = 0; far < 3; far += 1) heights.splice(random.index(heights.length), 0, 2400 + 50 * random.next());
      const whole = farOf(heights);
      const parts = createHeightEnds();
      for (let at = 0; at < heights.length; at += 11) {
        const part = createHeightEnds();
        heights.slice(at, at + 11).forEach((heightM, index) => part.add(String(at + index), heightM));
        parts.addPart(part.part());
      }
      expect(parts.far()).toEqual(whole);
      expect(whole?.far).toHaveLength(3);
    }
  });
  // Measured by another program with a million jobs each: 0.34 % of six, 0.044 % of eight, 0.006 % of ten, none of thirty.
  it.each([
    [6, 0.0055],
    [8, 0.0015],
    [10, 0.0006],
    [30, 0.0002],
  ])(
    'is met by chance in jobs of %d points in fewer than %d, heights being normal and of any spread',
    (count, rate) => {
      const random = seededRandom(7);
      let said = 0;
      const runs = 20_000;
      // Spread so far that the least gap plays no part.
      for (let run = 0; run < runs; run += 1)
        if (farOf(Array.from({ length: count }, () => 1e6 * random.normal())) !== null) said += 1;
      expect(said / runs).toBeLessThan(rate);
    },
  );
});
