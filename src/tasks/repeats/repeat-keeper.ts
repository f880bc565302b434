import { repeatLevel } from '../../core/quality/joint-test.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import { present } from '../../records/present.js';
import { compareStands } from './compare-stands.js';
import type { Stand } from './compare-stands.js';
import { disputeReasons } from './disputed-stands.js';
import type { DisputedStand } from './disputed-stands.js';
import { createHashTable } from '../join/hash-table.js';
import { hashPointId } from '../reduce/occupations/occupation-counter.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { isOfDay } from './repeat-pairs.js';
import type { PointRepeat } from './repeat-pairs.js';
import { createStandRecorder, standAt, wasAcceptedAt } from './stand-records.js';
import type { StandRecords } from './stand-records.js';

/**
 * Keeps what comparing repeats needs of every occupation of a run, 124 bytes each, and compares at its end: which points are
 * occupied again is not known before. Names are kept of points occupied more than once only; others are known by their hash, as
 * the counter of occupations knows them.
 */
export interface RepeatKeeper {
  readonly add: (point: ReducedPoint) => void;
  /** Occupations recorded elsewhere, in the order of the file: hashes two words each. */
  readonly addRecords: (hashes: Uint32Array, records: StandRecords) => void;
  /** Says that a name is occupied more than once. */
  readonly repeated: (pointId: string) => void;
  /** `nameOf`: the name of the occupation of a row, which is not kept; null: its number among those of its point. */
  readonly compare: (nameOf?: ((row: number) => string) | null) => ComparedRepeats;
}

/** The points of a run with repeats, and the occupations that contradict each other, in their order. */
export interface ComparedRepeats {
  readonly repeats: readonly PointRepeat[];
  readonly disputed: readonly DisputedStand[];
}

interface Chunk {
  readonly hashes: Uint32Array;
  readonly records: StandRecords;
}

const CHUNK = 8192;

/** A keeper of nothing. */
export function createRepeatKeeper(setup: ReductionSetup): RepeatKeeper {
  const chunks: Chunk[] = [];
  const recorder = createStandRecorder(setup);
  let hashes = new Uint32Array();
  const names = new Map<string, string>();
  const isRepeated = createHashTable();
  const held = new Uint32Array(2);

  function close(): void {
    if (recorder.count() > 0)
      chunks.push({
        hashes: 2 * recorder.count() === hashes.length ? hashes : hashes.slice(0, 2 * recorder.count()),
        records: recorder.take(),
      });
    hashes = new Uint32Array();
  }

  function repeated(pointId: string): void {
    hashPointId(pointId, held, 0);
    const [high, low] = held as unknown as readonly [number, number];
    isRepeated.set(high, low, 1);
    names.set(keyOf(high, low), pointId);
  }

  return {
    repeated,
    add(point) {
      if (hashes.length === 0) {
        hashes = new Uint32Array(2 * CHUNK);
        recorder.start(CHUNK);
      }
      hashPointId(point.pointId, hashes, 2 * recorder.count());
      recorder.add(point);
      if (point.occupation !== '1') repeated(point.pointId);
      if (recorder.count() === CHUNK) close();
    },
    addRecords(own, records) {
      close();
      chunks.push({ hashes: own, records });
    },
    compare(nameOf = null) {
      close();
      if (names.size === 0) return { repeats: [], disputed: [] };
      const groups = new Map<string, NumberedStand[]>();
      const counts = new Map<string, number>();
      let before = 0;
      for (const { hashes: own, records } of chunks) {
        for (let index = 0; 2 * index < own.length; index += 1) {
          const [high, low] = [own[2 * index] as number, own[2 * index + 1] as number];
          if (isRepeated.get(high, low) === 0) continue;
          const key = keyOf(high, low);
          const occupation = (counts.get(key) ?? 0) + 1;
          counts.set(key, occupation);
          const row = before + index;
          laidBy(groups, key, { records, index, occupation: nameOf?.(row) ?? String(occupation), row });
        }
        before += own.length / 2;
      }
      return compared(groups, names, setup);
    },
  };
}

interface NumberedStand {
  readonly records: StandRecords;
  readonly index: number;
  readonly occupation: string;
  /** Place among all occupations of the run. */
  readonly row: number;
}

function laidBy(groups: Map<string, NumberedStand[]>, key: string, stand: NumberedStand): void {
  const group = groups.get(key);
  if (group === undefined) groups.set(key, [stand]);
  else group.push(stand);
}

function compared(
  groups: ReadonlyMap<string, readonly NumberedStand[]>,
  names: ReadonlyMap<string, string>,
  setup: ReductionSetup,
): ComparedRepeats {
  const usable = [...groups].flatMap(([key, group]) => {
    const stands = group.filter(({ records, index }) => standAt(records, index, setup) !== null);
    return stands.length < 2 ? [] : [{ pointId: present(names.get(key), 'the name of a kept point'), stands }];
  });
  const level = repeatLevel(usable.length);
  const disputed: DisputedStand[] = [];
  const repeats = usable.map(({ pointId, stands }, place): PointRepeat => {
    const comparison = compareStands(
      stands.map(({ records, index }) => standAt(records, index, setup) as Stand),
      setup,
      level,
    );
    const { test, longestM, contrasts } = comparison;
    if (test.disagrees) {
      for (const [index, stand] of stands.entries())
        disputed.push({
          row: stand.row,
          pointId,
          occupation: stand.occupation,
          wasAccepted: wasAcceptedAt(stand.records, stand.index),
          reasons: disputeReasons(comparison, index),
        });
    }
    return {
      pointId,
      occupations: stands.map(({ occupation }) => occupation),
      test,
      longestM,
      contrasts: isOfDay(place, usable.length) ? contrasts : [],
    };
  });
  return { repeats, disputed: disputed.sort((a, b) => a.row - b.row) };
}

function keyOf(high: number, low: number): string {
  return `${String(high)}:${String(low)}`;
}
