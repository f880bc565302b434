import { quadraticForm3 } from '../../../core/numeric/symmetric3.js';
import { repeatTest } from '../../../core/observation/repeats/repeat-test.js';
import type { RepeatTest } from '../../../core/observation/repeats/repeat-test.js';
import { commonOffset } from '../../../core/quality/common-offset.js';
import type { CommonOffset } from '../../../core/quality/common-offset.js';
import { farthestPairs } from '../../../core/quality/farthest-pairs.js';
import { repeatLevel } from '../../../core/quality/joint-test.js';
import { isPairGain, repeatCause } from '../../../core/quality/repeat-cause.js';
import type { RepeatCause } from '../../../core/quality/repeat-cause.js';
import type { BaselineContrast } from '../../../core/quality/day/stand-contrasts.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { LocalVector } from '../../../records/points/point.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { RecordList } from '../../../records/record-list.js';
import { errorProblem } from '../../../records/problem.js';
import { createCheckRows } from '../check-row-packing.js';
import { groupById, groupByPlace } from './check-tolerances-groups.js';
import { otherNamesOfRepeats, otherNameStatements } from './other-names.js';
import type { OtherName } from './other-names.js';
import { placePoint } from './check-tolerances-place.js';
import { judgeRepeats } from './check-tolerances-stands.js';
import { rowOfPair } from './repeat-row.js';
import type { CheckRow, CheckSetup, PlacedPoint } from '../judge/check-tolerances-setup.js';
import { listOf, recordAt } from '../../reduce/packing/packed-records.js';
import { listWhere } from '../../reduce/record-search.js';
import { isInDispute, isOfDay, MOST_PAIRED, pairPlaces } from '../../repeats/repeat-pairs.js';
import { entryAt } from '../../../records/present.js';

const NO_CONTRASTS: readonly BaselineContrast[] = Object.freeze([]);

/** Occupations of one point, joined by their full covariance. */
export interface RepeatGroup {
  readonly pointId: string;
  readonly occupations: readonly string[];
  /** Weighted sum of squared residuals of all of them, and what it must not exceed. */
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly limit: number;
  /** The longest of their baselines, metres; 0 where none is known. */
  readonly distanceM: number;
  /** Whether they agree depends on the share of the base, which is not known. */
  readonly isUndecided: boolean;
  readonly hasUnknownSetup: boolean;
  /** The uncertainty of every occupation is known. */
  readonly isSure: boolean;
  /** Where occupations disagree: the likeliest cause, and the occupation that stands alone. */
  readonly cause: RepeatCause | null;
  readonly odd: string | null;
  /** What they say of the precision of the day; of many points as many as `isOfDay` takes. */
  readonly contrasts: readonly BaselineContrast[];
}

/** Misclosure of one point from two bases. */
export interface BaseMisclosure {
  readonly pointId: string;
  readonly bases: readonly [string, string];
  /** Second base minus first, true axes. */
  readonly difference: LocalVector;
  /** wᵀC⁻¹w with 3 degrees of freedom; null where C cannot be inverted or is not known. */
  readonly chiSquare: number | null;
  /** Mean of the two baselines. */
  readonly distanceM: number | null;
}

/** The vector that most points whose occupations disagree lie by; null where there is none. */
export function offsetOfRepeats(groups: readonly RepeatGroup[]): CommonOffset | null {
  return commonOffset(groups.flatMap(({ cause }) => (cause === null ? [] : [cause.difference])));
}

export interface RepeatCheck {
  readonly rows: RecordList<CheckRow>;
  readonly groups: readonly RepeatGroup[];
  readonly misclosures: readonly BaseMisclosure[];
  readonly single: number;
  /** Points that may have been occupied again under another name, and were not compared. */
  readonly otherNames: readonly OtherName[];
}

/**
 * The occupations of each point by one test of all, and pair by pair: difference, its covariance with what time and base share,
 * and the separation asked for. Of a point with many occupations the pairs listed are those of `pairsToList`. Points are the same by id, or by place within `samePlaceM`. What `settle` makes of a row is kept.
 * Problems: check-nothing-in-common where no point is repeated; those of `groupByPlace`.
 */
export function checkRepeats(
  points: RecordList<PointRow>,
  samePlaceM: number | null,
  source: string,
  setup: CheckSetup,
  settle: (row: CheckRow) => CheckRow = (row) => row,
): Outcome<RepeatCheck> {
  const standing = listWhere(points, ({ gridFirst, latitudeDeg }) => gridFirst !== null || latitudeDeg !== null);
  const placed = listOf(standing.length, (index) => placePoint(recordAt(standing, index), setup));
  const grouped = samePlaceM === null ? success(groupById(standing)) : groupByPlace(placed, samePlaceM, source);
  if (!grouped.ok) return grouped;
  const repeated = grouped.value.filter((group) => group.length > 1);
  const others = samePlaceM === null ? otherNamesOfRepeats(placed, setup) : [];
  if (repeated.length === 0) {
    const [said] = otherNameStatements(others, 'repeat');
    return failure(
      errorProblem('check-nothing-in-common', {
        message: 'no point was occupied twice',
        where: { source },
        hint:
          samePlaceM === null
            ? `points are the same by point_id; give --same-place METRES to match by place${said === undefined ? '' : `; ${said.text}`}`
            : 'give a larger --same-place, or check the identifiers',
      }),
    );
  }
  const rows = createCheckRows(setup);
  const groups: RepeatGroup[] = [];
  const misclosures: BaseMisclosure[] = [];
  const level = repeatLevel(repeated.length);
  for (const [at, places] of repeated.entries()) {
    const found: FoundPair[] = [];
    const group = places.map((place) => recordAt(placed, place));
    const checked = checkGroup(group, level, setup, found, misclosures);
    groups.push(isOfDay(at, repeated.length) ? checked : { ...checked, contrasts: NO_CONTRASTS });
    for (const { row, first, second } of found)
      rows.push(
        settle(row),
        { points: standing, index: places[second] as number },
        { points: standing, index: places[first] as number },
      );
  }
  return success({
    rows: rows.rows,
    groups,
    misclosures,
    single: grouped.value.length - repeated.length,
    otherNames: others,
  });
}

/** A pair that is listed, with the places of its two points in their group. */
interface FoundPair {
  readonly row: CheckRow;
  readonly first: number;
  readonly second: number;
}

/** The pair that contradicts most among those that are in dispute. */
interface WorstPair {
  readonly statistic: number;
  readonly first: PlacedPoint;
  readonly second: PlacedPoint;
  readonly pair: RepeatTest;
  readonly hasUp: boolean;
}

function checkGroup(
  group: readonly PlacedPoint[],
  level: number,
  setup: CheckSetup,
  found: FoundPair[],
  misclosures: BaseMisclosure[],
): RepeatGroup {
  const judged = judgeRepeats(group, level, setup);
  const { estimates, times, distanceM, test, isUndecided, isSure } = judged;
  const names = occupationNames(group);
  let worst: WorstPair | null = null;
  for (const [i, j] of pairsToList(group)) {
    const [first, second, a, b] = [group[i], group[j], estimates[i], estimates[j]];
    if (first === undefined || second === undefined || a === undefined || b === undefined) continue;
    const pair = repeatTest(a, b, times);
    const areSure = isSure[i] === true && isSure[j] === true;
    const isPair = first.row.baseId !== null && second.row.baseId !== null && first.row.baseId !== second.row.baseId;
    const inDispute = areSure && isInDispute(test, i, j);
    const of = {
      first,
      second,
      names: [entryAt(names, i), entryAt(names, j)] as const,
      pair,
      isPair,
      inDispute,
      isUnproved: areSure && pair.tooSoon === true && !isPairGain(a, b, pair.covariance),
      isSure: areSure,
    };
    const row = rowOfPair(of, judged, setup);
    const hasUp = row.upM !== null;
    const statistic = pair.horizontalStatistic + (hasUp ? pair.verticalStatistic ** 2 : 0);
    if (inDispute && !isUndecided && statistic > (worst?.statistic ?? -1))
      worst = { statistic, first, second, pair, hasUp };
    found.push({ row, first: i, second: j });
    if (isPair) misclosures.push(misclosureOf(first, second, pair, areSure, meanOf(a.baselineM, b.baselineM)));
  }
  return {
    pointId: entryAt(group, 0).row.pointId,
    occupations: names,
    chiSquare: test.chiSquare,
    degreesOfFreedom: test.degreesOfFreedom,
    limit: test.limit,
    distanceM,
    isUndecided,
    hasUnknownSetup: judged.hasUnknownSetup,
    isSure: isSure.every((sure) => sure),
    cause: worst === null ? null : causeOf(worst),
    contrasts: judged.contrasts,
    odd: test.odd === null || isUndecided ? null : (names[test.odd] ?? null),
  };
}

/** Occupations as the file names them; where it names none of a point, by their order in it, from 1. */
function occupationNames(group: readonly PlacedPoint[]): readonly string[] {
  const named = group.map(({ row }) => row.occupation);
  return named.every((name) => name === '') ? named.map((_, place) => String(place + 1)) : named;
}

function causeOf({ first, second, pair, hasUp }: WorstPair): RepeatCause | null {
  return repeatCause(
    {
      eastM: pair.differenceEastM,
      northM: pair.differenceNorthM,
      upM: hasUp ? pair.differenceUpM : 0,
    },
    pair,
    first.row.poleLengthM,
    second.row.poleLengthM,
  );
}

/** Of many occupations, neighbours and those farthest apart in plan and height: no pair exceeds a limit that these do not. */
function pairsToList(group: readonly PlacedPoint[]): readonly (readonly [number, number])[] {
  const pairs = pairPlaces(group.length);
  if (group.length <= MOST_PAIRED) return pairs;
  const far = farthestPairs(
    group.map(({ firstM, secondM, orthometricHeightM, ellipsoidalHeightM }) => ({
      x: firstM,
      y: secondM,
      up: orthometricHeightM ?? ellipsoidalHeightM,
    })),
  );
  return [...pairs, ...far.filter(([i, j]) => j - i > 1)];
}

function misclosureOf(
  first: PlacedPoint,
  second: PlacedPoint,
  test: ReturnType<typeof repeatTest>,
  isSure: boolean,
  distanceM: number | null,
): BaseMisclosure {
  const c = test.covariance;
  const difference = { eastM: test.differenceEastM, northM: test.differenceNorthM, upM: test.differenceUpM };
  return {
    pointId: first.row.pointId,
    // An empty name: the row does not say its base.
    bases: [first.row.baseId ?? '', second.row.baseId ?? ''],
    difference,
    chiSquare: isSure
      ? quadraticForm3(
          { xx: c.eeM2, xy: c.enM2, xz: c.euM2, yy: c.nnM2, yz: c.nuM2, zz: c.uuM2 },
          difference.eastM,
          difference.northM,
          difference.upM,
        )
      : null,
    distanceM,
  };
}

function meanOf(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : (a + b) / 2;
}
