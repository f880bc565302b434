import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SpareRoom } from '../../../../src/records/spare-room.js';
import { createNumberRows } from '../../../../src/tasks/reduce/packing/number-rows.js';
import { createTextTable } from '../../../../src/tasks/reduce/packing/text-table.js';

const WIDTH = 3;

/** One array of bytes as room, which takes so many pieces and no more. */
function roomFor(most: number): SpareRoom & { readonly pieces: () => number; readonly isClosed: () => boolean } {
  const bytes: number[] = [];
  let pieces = 0;
  let closed = false;
  return {
    put(own) {
      if (pieces === most) return null;
      pieces += 1;
      return bytes.push(...own) - own.length;
    },
    get(at, into) {
      into.set(bytes.slice(at, at + into.length));
    },
    close() {
      closed = true;
    },
    pieces: () => pieces,
    isClosed: () => closed,
  };
}

const numbersOf = (row: number): readonly number[] => [row, row + 0.25, -row];

describe('createNumberRows', () => {
  it('gives back each row as it was, in any order, whatever is laid by elsewhere and however often', () => {
    fc.assert(
      fc.property(
        fc.nat(200),
        fc.nat(40),
        fc.integer({ min: 0, max: 500 }),
        fc.array(fc.nat(199), { minLength: 1, maxLength: 60 }),
        (count, most, keptBytes, asked) => {
          const room = roomFor(most);
          const rows = createNumberRows(WIDTH, room, { chunk: 6, near: 2, keptBytes });
          for (let row = 0; row < count; row += 1)
            rows.add(row, (own, into, at) => {
              into.set(numbersOf(own), at);
            });
          expect(rows.length()).toBe(count);
          for (const row of asked.filter((own) => own < count))
            expect(rows.read(row, (from, at) => [...from.subarray(at, at + WIDTH)])).toStrictEqual(numbersOf(row));
          // 144 bytes a chunk: what would be more than is kept goes as far as there is room.
          const full = Math.floor(count / 6);
          expect(room.pieces()).toBe(Math.min(most, Math.max(0, full - Math.floor(keptBytes / 144))));
        },
      ),
    );
  });

  it('knows no row that was not added, and gives its room back', () => {
    const room = roomFor(9);
    const rows = createNumberRows(WIDTH, room);
    expect(() => rows.read(0, () => 0)).toThrow('not added');
    rows.close();
    expect(room.isClosed()).toBe(true);
  });
});

describe('createTextTable', () => {
  it('gives back each text by its number, and one number to texts that are alike and near', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('', 'a', 'b', 'P1', 'P2', ' ')),
        fc.integer({ min: 1, max: 9 }),
        (all, most) => {
          const table = createTextTable(most);
          const numbers = all.map(table.add);
          expect(numbers.map(table.at)).toStrictEqual(all);
          if (most >= 6) expect(new Set(numbers).size).toBe(new Set(all).size);
        },
      ),
    );
  });
});
