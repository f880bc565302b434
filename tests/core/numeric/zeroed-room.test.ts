import { describe, expect, it } from 'vitest';
import { createZeroedRoom } from '../../../src/core/numeric/zeroed-room.js';

describe('createZeroedRoom', () => {
  it('gives zeros, however often it was filled and however long it was asked for', () => {
    const room = createZeroedRoom();
    for (const length of [3, 0, 5, 2, 5, 9, 1]) {
      const numbers = room(length);
      expect([...numbers.subarray(0, length)]).toStrictEqual(new Array(length).fill(0));
      numbers.fill(7);
    }
  });

  it('is another memory for each', () => {
    const [one, other] = [createZeroedRoom(), createZeroedRoom()];
    const first = one(2);
    other(2).fill(7);
    expect([...first]).toStrictEqual([0, 0]);
  });
});
