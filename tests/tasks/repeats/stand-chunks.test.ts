import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createStandChunks } from '../../../src/tasks/repeats/stand-chunks.js';
import type { SpareRoom } from '../../../src/records/spare-room.js';
import type { StandChunk } from '../../../src/tasks/repeats/stand-chunks.js';

/** Doubles and single-precision numbers of an occupation, as `StandRecords` lays them out. */
const [PLACES, NUMBERS] = [4, 21];

/** Room in an array that takes so many pieces and no more. */
function roomFor(most: number): SpareRoom & { readonly isClosed: () => boolean; readonly pieces: () => number } {
  const pieces: Uint8Array[] = [];
  let closed = false;
  return {
    put: (bytes) => (pieces.length < most ? pieces.push(bytes.slice()) - 1 : null),
    get(at, into) {
      into.set(pieces[at] as Uint8Array);
    },
    close: () => {
      closed = true;
    },
    isClosed: () => closed,
    pieces: () => pieces.length,
  };
}

/** A chunk whose every number tells chunk, occupation and place. */
function chunkOf(chunk: number, hashes: readonly number[]): StandChunk {
  const numbered = (index: number, width: number): number =>
    chunk * 1000 + Math.floor(index / width) * 32 + (index % width);
  return {
    hashes: Uint32Array.from(hashes.flatMap((hash) => [hash, hash ^ 5])),
    records: {
      places: Float64Array.from({ length: PLACES * hashes.length }, (_, index) => numbered(index, PLACES) + 0.1),
      numbers: Float32Array.from({ length: NUMBERS * hashes.length }, (_, index) => numbered(index, NUMBERS) + 0.5),
    },
  };
}

/** Everything that is wanted, each occupation with its own numbers. */
function wantedOf(
  lists: readonly (readonly number[])[],
  spare: SpareRoom | null,
  keptBytes: number,
  odd: number,
  isLent = false,
) {
  const chunks = createStandChunks(spare, keptBytes);
  lists.forEach((hashes, at) => {
    const chunk = chunkOf(at, hashes);
    // What was laid by elsewhere, or only lent, may be written over.
    if (chunks.add(chunk, isLent) || isLent)
      for (const array of [chunk.hashes, chunk.records.places, chunk.records.numbers]) array.fill(0);
  });
  const found = [...chunks.wanted((high) => high % 3 === odd)].flatMap(({ records, stands }) =>
    stands.map(([index, row, high, low]) => ({
      row,
      high,
      low,
      places: [...records.places.subarray(PLACES * index, PLACES * (index + 1))],
      numbers: [...records.numbers.subarray(NUMBERS * index, NUMBERS * (index + 1))],
    })),
  );
  chunks.close();
  return found;
}

describe('chunks of occupations', () => {
  it('give the same occupations from memory, from elsewhere, and where the room elsewhere ends in the middle', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.nat(50), { maxLength: 9 }), { maxLength: 8 }),
        fc.nat(24),
        fc.nat(2000),
        fc.nat(2),
        (lists, pieces, keptBytes, odd) => {
          const plain = wantedOf(lists, null, 0, odd);
          // By hand: rows count through all chunks, and those wanted are the ones whose hash leaves that remainder.
          expect(plain.map(({ row }) => row)).toEqual(
            lists.flat().flatMap((hash, row) => (hash % 3 === odd ? [row] : [])),
          );
          expect(wantedOf(lists, roomFor(Number.POSITIVE_INFINITY), keptBytes, odd)).toEqual(plain);
          expect(wantedOf(lists, roomFor(pieces), 0, odd)).toEqual(plain);
          expect(wantedOf(lists, roomFor(pieces), keptBytes, odd, true)).toEqual(plain);
        },
      ),
    );
  });

  it('lay by what is beyond the bytes that stay in memory, and close the room', () => {
    const spare = roomFor(Number.POSITIVE_INFINITY);
    const chunks = createStandChunks(spare, 2 * 124);
    // 124 bytes an occupation: two stay.
    expect([1, 2, 3].map((hash) => chunks.add(chunkOf(0, [hash])))).toEqual([false, false, true]);
    expect(spare.pieces()).toBe(3);
    expect(spare.isClosed()).toBe(false);
    chunks.close();
    expect(spare.isClosed()).toBe(true);
  });
});
