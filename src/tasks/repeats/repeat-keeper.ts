import { repeatLevel } from '../../core/quality/joint-test.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import { present } from '../../records/present.js';
import type { SpareRoom } from '../../records/spare-room.js';
import { compareStands } from './compare-stands.js';
import type { Stand } from './compare-stands.js';
import { createContrastStore, NO_CONTRASTS } from './contrast-store.js';
import { disputeReasons } from './disputed-stands.js';
import type { DisputedStand } from './disputed-stands.js';
import { createHashTable } from '../join/hash-table.js';
import type { HashTable } from '../join/hash-table.js';
import { hashPointId } from '../reduce/occupations/occupation-counter.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { isOfDay } from './repeat-pairs.js';
import type { PointRepeat } from './repeat-pairs.js';
import { createStandChunks } from './stand-chunks.js';
import type { StandChunk, StandChunks } from './stand-chunks.js';
import { createStandRecorder, standAt, wasAcceptedAt } from './stand-records.js';
import type { StandRecords } from './stand-records.js';

/**
 * Keeps what comparing repeats needs of every occupation of a run, 124 bytes each, and compares at its end: which points are
 * occupied again is not known before. Names are kept of points occupied more than once only; others are known by their hash, as
 * the counter of occupations knows them.
 */
export interface RepeatKeeper {
  readonly add: (point: ReducedPoint) => void;
  /** Occupations recorded elsewhere, in the order of the file: hashes two words each. They may be written over afterwards. */
  readonly addRecords: (hashes: Uint32Array<ArrayBuffer>, records: StandRecords) => void;
  /** Says that a name is occupied more than once. */
  readonly repeated: (pointId: string) => void;
  /** At the end of the run, once. `nameOf`: the name of the occupation of a row, which is not kept; null: its number among those of its point. */
  readonly compare: (nameOf?: ((row: number) => string) | null) => ComparedRepeats;
}

/** The points of a run with repeats, and the occupations that contradict each other, in their order. */
export interface ComparedRepeats {
  readonly repeats: readonly PointRepeat[];
  readonly disputed: readonly DisputedStand[];
}

/** What is kept together, and how much of it stays in memory before the rest is laid by. */
export interface KeeperSizes {
  readonly chunk: number;
  readonly keptBytes: number;
}

/** A day's work asks for no other room than memory. */
export const KEEPER_SIZES: KeeperSizes = { chunk: 8192, keptBytes: 2 << 20 };

/** A keeper of nothing. `spare`: where it keeps what would fill memory; null: all stays in memory. */
export function createRepeatKeeper(
  setup: ReductionSetup,
  spare: SpareRoom | null = null,
  { chunk: most, keptBytes }: KeeperSizes = KEEPER_SIZES,
): RepeatKeeper {
  const chunks = createStandChunks(spare, keptBytes);
  const recorder = createStandRecorder(setup);
  let hashes = new Uint32Array(0);
  let used: StandChunk | null = null;
  const names = new Map<string, string>();
  const isRepeated = createHashTable();
  const held = new Uint32Array(2);

  function close(): void {
    if (recorder.count() > 0) {
      const isFull = 2 * recorder.count() === hashes.length;
      const chunk = {
        hashes: isFull ? hashes : hashes.slice(0, 2 * recorder.count()),
        records: recorder.take(),
      };
      used = chunks.add(chunk) && isFull ? chunk : null;
    }
    hashes = new Uint32Array(0);
    recorder.start(0);
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
        hashes = used?.hashes ?? new Uint32Array(2 * most);
        recorder.start(most, used?.records);
      }
      hashPointId(point.pointId, hashes, 2 * recorder.count());
      recorder.add(point);
      if (point.occupation !== '1') repeated(point.pointId);
      if (recorder.count() === most) close();
    },
    addRecords(own, records) {
      close();
      chunks.add({ hashes: own, records }, true);
    },
    compare(nameOf = null) {
      close();
      const groups = names.size === 0 ? new Map<string, NumberedStand[]>() : repeatedStands(chunks, isRepeated, nameOf);
      chunks.close();
      return groups.size === 0 ? { repeats: [], disputed: [] } : compared(groups, names, setup);
    },
  };
}

/** The occupations of each point that has more than one. */
function repeatedStands(
  chunks: StandChunks,
  isRepeated: HashTable,
  nameOf: ((row: number) => string) | null,
): Map<string, NumberedStand[]> {
  const groups = new Map<string, NumberedStand[]>();
  for (const { records, stands } of chunks.wanted((high, low) => isRepeated.get(high, low) !== 0)) {
    for (const [index, row, high, low] of stands) {
      const key = keyOf(high, low);
      const group = groups.get(key) ?? [];
      if (group.length === 0) groups.set(key, group);
      group.push({ records, index, occupation: nameOf?.(row) ?? String(group.length + 1), row });
    }
  }
  return groups;
}

interface NumberedStand {
  readonly records: StandRecords;
  readonly index: number;
  readonly occupation: string;
  /** Place among all occupations of the run. */
  readonly row: number;
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
  const contrasts = createContrastStore();
  const repeats = usable.map(({ pointId, stands }, place): PointRepeat => {
    const comparison = compareStands(
      stands.map(({ records, index }) => standAt(records, index, setup) as Stand),
      setup,
      level,
    );
    const { test, longestM, atOnce } = comparison;
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
      contrasts: isOfDay(place, usable.length) ? contrasts.keep(comparison.contrasts()) : NO_CONTRASTS,
      atOnce,
    };
  });
  return { repeats, disputed: disputed.sort((a, b) => a.row - b.row) };
}

function keyOf(high: number, low: number): string {
  return `${String(high)}:${String(low)}`;
}
