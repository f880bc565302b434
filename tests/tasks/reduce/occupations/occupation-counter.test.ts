import { describe, expect, it } from 'vitest';
import { createOccupationCounter, hashPointId } from '../../../../src/tasks/reduce/occupations/occupation-counter.js';
import { seededRandom } from '../../../support/seeded-random.js';

describe('createOccupationCounter', () => {
  it('numbers as a table of names would, through many growths', () => {
    const random = seededRandom(21);
    const counter = createOccupationCounter();
    const names = new Map<string, number>();
    for (let i = 0; i < 60_000; i += 1) {
      const name = random.next() < 0.02 ? 'PEG' : `P${random.index(20_000)}`;
      const expected = (names.get(name) ?? 0) + 1;
      names.set(name, expected);
      if (counter.next(name) !== expected) expect.fail(`${name} is not numbered ${expected}`);
    }
    expect(names.get('PEG')).toBeGreaterThan(600);
    expect(names.size).toBeGreaterThan(15_000);
  });

  it('goes on counting beyond what the table of counts holds', () => {
    const counter = createOccupationCounter();
    for (let occupation = 1; occupation <= 70_000; occupation += 1) {
      if (counter.next('PEG 7') !== occupation) expect.fail(`occupation ${occupation} has another number`);
    }
  });

  it('keeps apart a name, the same with a digit after it, and the same with two', () => {
    const counter = createOccupationCounter();
    for (const name of ['PEG', 'PEG1', 'PEG11', 'PEG0', 'PEG10', '', '1', '11', 'PEG/', 'PEG:']) {
      expect(counter.next(name), name).toBe(1);
      expect(counter.next(name), name).toBe(2);
    }
  });

  // A letter is so far from the digits that some, as numbers, end in the same four bits as one.
  it('keeps apart names that end in each letter and in each digit', () => {
    const counter = createOccupationCounter();
    for (let code = 0x20; code < 0x7f; code += 1) expect(counter.next(`PEG ${String.fromCharCode(code)}`)).toBe(1);
  });

  it('counts a hashed name with the name itself', () => {
    const counter = createOccupationCounter();
    const hash = new Uint32Array(4);
    hashPointId('QP-04', hash, 2);
    expect(counter.next('QP-04')).toBe(1);
    expect(counter.nextHashed(hash[2] as number, hash[3] as number)).toBe(2);
    expect(counter.next('QP-05')).toBe(1);
  });
});
