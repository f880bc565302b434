import type { SpareRoom } from '../../records/spare-room.js';
import type { StandRecords } from './stand-records.js';
import { pickedRecords } from './stand-records.js';

/** Occupations one after another: their hashes, two words each, and their records. */
export interface StandChunk {
  readonly hashes: Uint32Array<ArrayBuffer>;
  readonly records: StandRecords;
}

/** Chunks in the order in which they came. */
export interface StandChunks {
  /** True: they were laid by elsewhere, and their memory is free again. `isLent`: it is in any case, and what stays here is copied. */
  readonly add: (chunk: StandChunk, isLent?: boolean) => boolean;
  /** Those occupations of each chunk that are wanted by their hashes, with their places in the whole, in order. */
  readonly wanted: (isWanted: (high: number, low: number) => boolean) => Generator<WantedStands>;
  readonly close: () => void;
}

/** Some occupations of a chunk. */
export interface WantedStands {
  readonly records: StandRecords;
  /** By occupation: place in `records`, place in the whole, and both words of its hash. */
  readonly stands: readonly (readonly [index: number, row: number, high: number, low: number])[];
}

/** What is laid by elsewhere: how many occupations, and where each array of theirs stands. */
interface Elsewhere {
  readonly count: number;
  readonly hashesAt: number;
  readonly placesAt: number;
  readonly numbersAt: number;
}

/** No chunks. `spare`: where those go that would be more than `keptBytes` together; null: nowhere. */
export function createStandChunks(spare: SpareRoom | null, keptBytes: number): StandChunks {
  const chunks: (StandChunk | Elsewhere)[] = [];
  let kept = 0;

  function laidBy({ hashes, records: { places, numbers } }: StandChunk): Elsewhere | null {
    const hashesAt = spare?.put(bytesOf(hashes)) ?? null;
    const placesAt = hashesAt === null ? null : (spare?.put(bytesOf(places)) ?? null);
    const numbersAt = placesAt === null ? null : (spare?.put(bytesOf(numbers)) ?? null);
    if (hashesAt === null || placesAt === null || numbersAt === null) return null;
    return { count: hashes.length / 2, hashesAt, placesAt, numbersAt };
  }

  function hashesOf({ count, hashesAt }: Elsewhere): Uint32Array {
    const hashes = new Uint32Array(2 * count);
    spare?.get(hashesAt, bytesOf(hashes));
    return hashes;
  }

  function recordsOf({ count, placesAt, numbersAt }: Elsewhere, indices: readonly number[]): StandRecords {
    return pickedRecords(count, indices, {
      places: (into) => spare?.get(placesAt, bytesOf(into)),
      numbers: (into) => spare?.get(numbersAt, bytesOf(into)),
    });
  }

  return {
    add(chunk, isLent = false) {
      const { hashes, records } = chunk;
      const bytes = hashes.byteLength + records.places.byteLength + records.numbers.byteLength;
      const away = kept + bytes > keptBytes ? laidBy(chunk) : null;
      if (away === null) kept += bytes;
      chunks.push(away ?? (isLent ? copied(chunk) : chunk));
      return away !== null;
    },
    *wanted(isWanted) {
      let before = 0;
      for (const chunk of chunks) {
        const hashes = 'hashes' in chunk ? chunk.hashes : hashesOf(chunk);
        const found: (readonly [number, number, number, number])[] = [];
        for (let index = 0; 2 * index < hashes.length; index += 1) {
          const [high, low] = [hashes[2 * index] as number, hashes[2 * index + 1] as number];
          if (isWanted(high, low)) found.push([index, before + index, high, low]);
        }
        before += hashes.length / 2;
        if ('records' in chunk) yield { records: chunk.records, stands: found };
        else if (found.length > 0) {
          const records = recordsOf(
            chunk,
            found.map(([index]) => index),
          );
          yield { records, stands: found.map(([, row, high, low], place) => [place, row, high, low] as const) };
        }
      }
    },
    close: () => spare?.close(),
  };
}

function copied({ hashes, records: { places, numbers } }: StandChunk): StandChunk {
  return { hashes: hashes.slice(), records: { places: places.slice(), numbers: numbers.slice() } };
}

function bytesOf({ buffer, byteOffset, byteLength }: Uint32Array | Float64Array | Float32Array): Uint8Array {
  return new Uint8Array(buffer, byteOffset, byteLength);
}
