import { ZERO_COVARIANCE } from '../../core/observation/uncertainty/local-covariance.js';
import type { LocalCovariance } from '../../records/points/point.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { Stand } from './compare-stands.js';
import { hashPointId } from '../reduce/occupations/occupation-counter.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';

/** What comparing repeats needs of occupations, as plain numbers: 124 bytes each with the hash of the name, and no names. */
export interface StandRecords {
  /** Latitude, longitude, ellipsoidal height, first epoch; NaN: no position, or no time. */
  readonly places: Float64Array<ArrayBuffer>;
  /** See `NUMBERS`. */
  readonly numbers: Float32Array<ArrayBuffer>;
}

const PLACES = 4;
/** Independent six, correlated three, growing three, duration, pole length, set-up and verdict, bend four, pole two. */
const NUMBERS = 21;

/** Bytes of an occupation. */
export const STAND_BYTES: number = 8 * PLACES + 4 * NUMBERS;

/** Records of so many occupations in memory that is there. */
export function standRecordsIn(memory: ArrayBuffer, count: number): StandRecords {
  return {
    places: new Float64Array(memory, 0, PLACES * count),
    numbers: new Float32Array(memory, 8 * PLACES * count, NUMBERS * count),
  };
}

/** Writes occupations one after another into room for so many. */
export interface StandRecorder {
  /** `again`: records of as many that nobody needs any more, whose memory is used again. */
  readonly start: (room: number, again?: StandRecords | null) => void;
  readonly add: (point: ReducedPoint) => void;
  readonly count: () => number;
  /** What was written, where it was written. */
  readonly take: () => StandRecords;
}

/** A recorder for one setup. */
export function createStandRecorder(setup: ReductionSetup): StandRecorder {
  let places = new Float64Array();
  let numbers = new Float32Array();
  let count = 0;
  const held = new Uint32Array(2);
  let lastKey: string | null = null;
  let lastCode = -1;
  const setupCode = (setupKey: string | null): number => {
    if (setupKey === lastKey) return lastCode;
    lastKey = setupKey;
    lastCode = newCode(setupKey);
    return lastCode;
  };
  const newCode = (setupKey: string | null): number => {
    const place = setup.bases.findIndex(({ identity }) => identity.setupKey === setupKey);
    if (place >= 0) return place;
    if (setupKey === null) return -1;
    // Named and not described: told apart by a hash of the name that a float holds exactly; a last digit stands in the second word alone.
    hashPointId(setupKey, held, 0);
    return -2 - (((held[0] as number) ^ ((held[1] as number) >>> 12)) & 0xfffff);
  };
  return {
    start(room, again = null) {
      places = again?.places ?? new Float64Array(PLACES * room);
      numbers = again?.numbers ?? new Float32Array(NUMBERS * room);
      count = 0;
    },
    count: () => count,
    add(point) {
      const at = PLACES * count;
      const from = NUMBERS * count;
      count += 1;
      if (point.position === null || point.uncertainty === null) {
        places[at] = NaN;
        return;
      }
      const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = point.position.geodetic;
      const { firstEpochMs, lastEpochMs } = point;
      places[at] = latitudeDeg;
      places[at + 1] = longitudeDeg;
      places[at + 2] = ellipsoidalHeightM;
      places[at + 3] = firstEpochMs ?? NaN;
      // Part by part and without a stand in between: a million points pass here.
      const { noise, pole, correlated, age, baseline, bend } = point.uncertainty;
      numbers[from] = noise.eeM2 + pole.eeM2;
      numbers[from + 1] = noise.enM2 + pole.enM2;
      numbers[from + 2] = noise.euM2 + pole.euM2;
      numbers[from + 3] = noise.nnM2 + pole.nnM2;
      numbers[from + 4] = noise.nuM2 + pole.nuM2;
      numbers[from + 5] = noise.uuM2 + pole.uuM2;
      numbers[from + 6] = correlated.eeM2 + age.eeM2;
      numbers[from + 7] = correlated.nnM2 + age.nnM2;
      numbers[from + 8] = correlated.uuM2 + age.uuM2;
      numbers[from + 9] = baseline.eeM2;
      numbers[from + 10] = baseline.nnM2;
      numbers[from + 11] = baseline.uuM2;
      numbers[from + 12] = firstEpochMs === null || lastEpochMs === null ? NaN : lastEpochMs - firstEpochMs;
      numbers[from + 13] = point.poleLengthM ?? NaN;
      numbers[from + 14] = 2 * setupCode(point.setupKey) + (point.verdict === 'accepted' ? 1 : 0);
      numbers[from + 15] = bend.eeM2;
      numbers[from + 16] = bend.enM2;
      numbers[from + 17] = bend.nnM2;
      numbers[from + 18] = bend.uuM2;
      numbers[from + 19] = (pole.eeM2 + pole.nnM2) / 2;
      numbers[from + 20] = pole.uuM2;
    },
    take: () => ({ places: places.subarray(0, PLACES * count), numbers: numbers.subarray(0, NUMBERS * count) }),
  };
}

/**
 * Some of so many records that are kept elsewhere, in the order of their places.
 *
 * Given: how many there are, the places that are wanted, and what fills an array with those of all. Returned: a record for each place.
 */
export function pickedRecords(
  count: number,
  indices: readonly number[],
  fill: { readonly [K in keyof StandRecords]: (into: StandRecords[K]) => void },
): StandRecords {
  const places = new Float64Array(PLACES * count);
  const numbers = new Float32Array(NUMBERS * count);
  fill.places(places);
  fill.numbers(numbers);
  const own = {
    places: new Float64Array(PLACES * indices.length),
    numbers: new Float32Array(NUMBERS * indices.length),
  };
  for (const [at, index] of indices.entries()) {
    own.places.set(places.subarray(PLACES * index, PLACES * (index + 1)), PLACES * at);
    own.numbers.set(numbers.subarray(NUMBERS * index, NUMBERS * (index + 1)), NUMBERS * at);
  }
  return own;
}

/** Whether the occupation written at a place was accepted. */
export function wasAcceptedAt({ numbers }: StandRecords, index: number): boolean {
  return (numbers[NUMBERS * index + 14] as number) % 2 !== 0;
}

/** The occupation written at a place; null where it has no position. Inverse of `StandRecorder.add`, to single precision of variances. */
export function standAt({ places, numbers }: StandRecords, index: number, setup: ReductionSetup): Stand | null {
  const place = (offset: number): number => places[PLACES * index + offset] as number;
  const number = (offset: number): number => numbers[NUMBERS * index + offset] as number;
  if (Number.isNaN(place(0))) return null;
  const geodetic = { latitudeDeg: place(0), longitudeDeg: place(1), ellipsoidalHeightM: place(2) };
  const along = (offset: number): LocalCovariance => ({
    ...ZERO_COVARIANCE,
    eeM2: number(offset),
    nnM2: number(offset + 1),
    uuM2: number(offset + 2),
  });
  const code = Math.floor(number(14) / 2);
  const base = setup.bases[code];
  const startMs = Number.isNaN(place(3)) ? null : place(3);
  return {
    geodetic,
    independent: {
      eeM2: number(0),
      enM2: number(1),
      euM2: number(2),
      nnM2: number(3),
      nuM2: number(4),
      uuM2: number(5),
    },
    pole: { planM2: number(19), upM2: number(20) },
    correlated: along(6),
    baseline: along(9),
    base: null,
    bend: { ...ZERO_COVARIANCE, eeM2: number(15), enM2: number(16), nnM2: number(17), uuM2: number(18) },
    setupKey: base?.identity.setupKey ?? (code === -1 ? null : `unknown ${String(code)}`),
    baselineM:
      base === undefined
        ? null
        : setup.geodesic.distanceM(
            base.origin.geodetic.latitudeDeg,
            base.origin.geodetic.longitudeDeg,
            geodetic.latitudeDeg,
            geodetic.longitudeDeg,
          ),
    startMs,
    endMs: startMs === null ? null : startMs + number(12),
    poleLengthM: Number.isNaN(number(13)) ? null : number(13),
  };
}
