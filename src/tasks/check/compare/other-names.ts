import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { nameKey } from '../../../core/numeric/text/name-key.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { present } from '../../../records/present.js';
import type { RecordList } from '../../../records/record-list.js';
import { recordAt } from '../../reduce/packing/packed-records.js';
import type { CheckSetup, PlacedPoint } from '../judge/check-tolerances-setup.js';
import type { StandardStatement } from '../judge/check-tolerances-standard-statement.js';
import { placeDifference } from './check-tolerances-difference.js';
import { placePoint } from './check-tolerances-place.js';

/** Two points that may be one mark under two names, and so were not compared. */
export interface OtherName {
  readonly measured: string;
  /** In the control; of repeats the name that comes first. */
  readonly known: string;
  /** Between them in plan, metres; null where either has no place. */
  readonly apartM: number | null;
  /** The names differ in writing only: case, signs, noughts before a number. */
  readonly isAlike: boolean;
}

/** Names that differ in writing only are of one mark where the points lie no farther apart, metres (common practice, no published source). */
const ONE_MARK_M = 1;
/** Points of different names stand on one mark where they lie no farther apart, metres (common practice, no published source). */
const SAME_PLACE_M = 0.1;
/** Pairs that are named. */
const MOST_NAMED = 6;

/**
 * Points that no name joins with the control (or the design), though their names differ in writing only, or they stand on a control point that was not
 * measured by its own name. `known`: where each control point stands among `control`; `fits`: 1 for those that do not check; null: all do.
 */
export function otherNames(
  points: RecordList<PointRow>,
  control: RecordList<PointRow>,
  known: ReadonlyMap<string, number>,
  fits: Uint8Array | null,
  setup: CheckSetup,
): readonly OtherName[] {
  const measured = new Set<string>();
  const others = new Map<string, number>();
  let index = 0;
  for (const { pointId } of points) {
    if (known.has(pointId)) measured.add(pointId);
    else if (!others.has(pointId)) others.set(pointId, index);
    index += 1;
  }
  if (others.size === 0) return [];
  const byKey = new Map<string, number | null>();
  const near = createNeighbours();
  for (const [name, at] of known) {
    if (fits?.[at] === 1) continue;
    const key = nameKey(name);
    byKey.set(key, byKey.has(key) ? null : at);
    if (!measured.has(name)) near.add(placePoint(recordAt(control, at), setup), at);
  }
  const found: OtherName[] = [];
  for (const [name, at] of others) {
    const place = placePoint(recordAt(points, at), setup);
    const alike = byKey.get(nameKey(name)) ?? null;
    const other = alike ?? near.of(place);
    if (other === null) continue;
    const row = recordAt(control, other);
    const apartM = apart(place, placePoint(row, setup), setup);
    if (alike === null && (apartM === null || apartM > SAME_PLACE_M)) continue;
    found.push({ measured: name, known: row.pointId, apartM, isAlike: alike !== null });
  }
  return found;
}

/** Occupations that were not compared, as their names differ in writing only though they are of one place; a pair for each name after the first. */
export function otherNamesOfRepeats(placed: RecordList<PlacedPoint>, setup: CheckSetup): readonly OtherName[] {
  const seen = new Set<string>();
  const byKey = new Map<string, PlacedPoint>();
  const found: OtherName[] = [];
  for (const point of placed) {
    const { pointId } = point.row;
    if (seen.has(pointId)) continue;
    seen.add(pointId);
    const key = nameKey(pointId);
    const first = byKey.get(key);
    if (first === undefined) byKey.set(key, point);
    else {
      const apartM = apart(point, first, setup);
      if (apartM !== null && apartM <= ONE_MARK_M)
        found.push({ measured: pointId, known: first.row.pointId, apartM, isAlike: true });
    }
  }
  return found;
}

/** What is said of them: of one mark under two names the comparison that was meant cannot be stated. */
export function otherNameStatements(
  found: readonly OtherName[],
  kind: 'control' | 'design' | 'repeat',
): readonly StandardStatement[] {
  const isOneMark = ({ isAlike, apartM }: OtherName): boolean => isAlike && (apartM === null || apartM <= ONE_MARK_M);
  const [missed, doubtful] = [found.filter(isOneMark), found.filter((pair) => !isOneMark(pair))];
  const what = `${kind} under another name`;
  return [
    ...(missed.length === 0
      ? []
      : [
          {
            what,
            text: `cannot be stated: ${listed(missed, written)}; the names differ in writing only and nothing was compared: write them alike`,
            verdict: 'not-stated' as const,
            mend: 'Write the names that are named above alike in both files, and check again',
          },
        ]),
    ...(doubtful.length === 0
      ? []
      : [
          {
            what,
            text: `not compared: ${listed(doubtful, ({ measured, known, apartM }) => `${measured} lies ${distance(present(apartM, 'apartM'))} from ${known}`)}; where it is the same mark, write the names alike`,
            verdict: 'information' as const,
            mend: 'Where it is the same mark, write the names alike in both files',
          },
        ]),
  ];
}

function written({ measured, known }: OtherName): string {
  const isCoded = measured.normalize('NFC') === known.normalize('NFC');
  return `${measured} is written ${known}${isCoded ? ' in other codes of the same letters' : ''}`;
}

function listed(pairs: readonly OtherName[], say: (pair: OtherName) => string): string {
  const more = pairs.length - MOST_NAMED;
  return `${pairs.slice(0, MOST_NAMED).map(say).join(', ')}${more > 0 ? ` and ${String(more)} more` : ''}`;
}

function distance(metres: number): string {
  return metres < 10 ? `${formatFixed(metres, 3)} m` : `${formatFixed(metres, 0)} m`;
}

function apart(measured: PlacedPoint, known: PlacedPoint, setup: CheckSetup): number | null {
  const { firstM, secondM } = placeDifference(measured, known, setup);
  return firstM === null || secondM === null ? null : Math.hypot(firstM, secondM);
}

/** Points by where they stand in the plane. */
interface Neighbours {
  readonly add: (place: PlacedPoint, index: number) => void;
  /** The nearest one not farther than about `SAME_PLACE_M`, or null. */
  readonly of: (place: PlacedPoint) => number | null;
}

function createNeighbours(): Neighbours {
  const cells = new Map<string, Standing[]>();
  const cell = (value: number): number => Math.floor(value / SAME_PLACE_M);
  return {
    add({ firstM, secondM }, index) {
      if (firstM === null || secondM === null) return;
      const key = `${String(cell(firstM))}:${String(cell(secondM))}`;
      const there = cells.get(key);
      if (there === undefined) cells.set(key, [{ firstM, secondM, index }]);
      else there.push({ firstM, secondM, index });
    },
    of(place) {
      if (cells.size === 0) return null;
      const { firstM, secondM } = place;
      if (firstM === null || secondM === null) return null;
      let [least, nearest]: [number, number | null] = [SAME_PLACE_M, null];
      for (let i = -1; i <= 1; i += 1)
        for (let j = -1; j <= 1; j += 1)
          // A cell in which nothing stands.
          for (const other of cells.get(`${String(cell(firstM) + i)}:${String(cell(secondM) + j)}`) ?? []) {
            const apartM = Math.hypot(other.firstM - firstM, other.secondM - secondM);
            if (apartM <= least) [least, nearest] = [apartM, other.index];
          }
      return nearest;
    },
  };
}

interface Standing {
  readonly firstM: number;
  readonly secondM: number;
  readonly index: number;
}
