import { describe, expect, it } from 'vitest';
import { createValueRoom, createZeroedRoom } from '../../../src/core/numeric/kept-room.js';

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

describe('createValueRoom', () => {
  it('gives the same room as long as it is long enough, and keeps none that is too long', () => {
    const room = createValueRoom();
    const first = room(10);
    expect(first.length).toBeGreaterThanOrEqual(10);
    expect(room(first.length)).toBe(first);
    const longer = room(first.length + 1);
    expect(room(3)).toBe(longer);
    expect(room((1 << 21) + 1).length).toBe((1 << 21) + 1);
    expect(room(3)).toBe(longer);
  });
});
