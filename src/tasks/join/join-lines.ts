import { pushAll } from '../../core/numeric/push-all.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { EllipsoidStation, PointJoin, Station } from '../../records/points/point-join.js';
import type { RowPlace } from '../../records/points/fix.js';
import { errorProblem, locateProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { stationFinder } from '../bases/stations.js';
import { createPointJoiner } from './join-points.js';
import type { JoinSetup } from './join-points.js';

/** Which lines are asked for: from one point to another or to all others, pairs of a file, or each point to the next. */
export type LinesAsked =
  | { readonly kind: 'from'; readonly fromId: string; readonly toId: string | null }
  | {
      readonly kind: 'pairs';
      readonly source: string;
      readonly pairs: readonly { readonly fromId: string; readonly toId: string; readonly place: RowPlace }[];
    }
  | { readonly kind: 'consecutive' };

/** Stations, and the name of their file. */
export interface StationsOfFile<S = Station> {
  readonly stations: readonly S[];
  readonly source: string;
}

interface Line<S> {
  readonly from: S;
  readonly to: S;
  /** Where it was asked for. */
  readonly where: { readonly source: string; readonly line: number };
}

/**
 * The joins of all lines asked for, in order.
 *
 * Given: which lines; the stations; grid and geodesic. Problems: value-unknown-id and value-duplicate-id of every line, not only
 * the first; csv-empty where there is no line; those of `joinPoints`, placed where the line was asked for.
 *
 * @example
 * // Flinders Peak to Buninyong, worked example of the GDA2020 manual.
 * const setup = { grid: loadGridSystem('EPSG:28355').value, geodesic: createGeodesic(GRS80), geoid: null };
 * const none = { occupation: '', orthometricHeightM: null, place: { file: null, line: 1, record: 1 } };
 * const flinders = { latitudeDeg: -37.9510334167, longitudeDeg: 144.4248678889, ellipsoidalHeightM: 350.948 };
 * const buninyong = { latitudeDeg: -37.6528211389, longitudeDeg: 143.9264955278, ellipsoidalHeightM: 749.855 };
 * const station = (pointId, { ...place }) => {
 *   const pair = { first: 0, second: 0 };
 *   setup.grid.forward(place.latitudeDeg, place.longitudeDeg, pair);
 *   return { pointId, ...place, gridFirst: pair.first, gridSecond: pair.second, ...none };
 * };
 * const of = { stations: [station('F', flinders), station('B', buninyong)], source: 'manual' };
 * const [join] = joinLines({ kind: 'from', fromId: 'F', toId: 'B' }, of, setup).value;
 * [join.gridDistanceM, join.ellipsoidalDistanceM]; // [54992.279, 54972.271]
 */
export function joinLines(asked: LinesAsked, of: StationsOfFile, setup: JoinSetup): Outcome<readonly PointJoin[]> {
  return linesBetween(asked, of, createPointJoiner(setup));
}

/** The same with a join of any kind. Given: which lines; the stations; what makes a line of two. */
export function linesBetween<S extends EllipsoidStation, Join>(
  asked: LinesAsked,
  of: StationsOfFile<S>,
  join: (from: S, to: S) => Outcome<Join>,
): Outcome<readonly Join[]> {
  const lines = linesAsked(asked, of);
  const problems: Problem[] = [...lines.problems];
  const found = lines.lines;
  if (found.length === 0 && problems.length === 0) return failure(noLineProblem(of.stations.length, of.source));
  const joins = found.flatMap(({ from, to, where }) => {
    const made = join(from, to);
    for (const problem of made.problems) problems.push(locateProblem(problem, where));
    return made.ok ? [made.value] : [];
  });
  return problems.some(({ severity }) => severity === 'error') ? failureOf(problems) : success(joins, problems);
}

interface FoundLines<S> {
  readonly lines: readonly Line<S>[];
  readonly problems: readonly Problem[];
}

function linesAsked<S extends EllipsoidStation>(asked: LinesAsked, of: StationsOfFile<S>): FoundLines<S> {
  switch (asked.kind) {
    case 'from':
      return linesFrom(asked.fromId, asked.toId, of);
    case 'pairs':
      return linesOfPairs(asked, of);
    case 'consecutive':
      return {
        problems: [],
        lines: of.stations.flatMap((to, index) => {
          const from = of.stations[index - 1];
          return from === undefined ? [] : [lineTo(from, to, of.source)];
        }),
      };
  }
}

function lineTo<S extends EllipsoidStation>(from: S, to: S, source: string): Line<S> {
  return { from, to, where: { source, line: to.place.line } };
}

function linesFrom<S extends EllipsoidStation>(
  fromId: string,
  toId: string | null,
  { stations, source }: StationsOfFile<S>,
): FoundLines<S> {
  const find = stationFinder(stations, source);
  const from = find(fromId);
  if (!from.ok) return { lines: [], problems: from.problems };
  if (toId === null) {
    const others = stations.filter((station) => station !== from.value);
    return { lines: others.map((to) => lineTo(from.value, to, source)), problems: [] };
  }
  const to = find(toId);
  return to.ok ? { lines: [lineTo(from.value, to.value, source)], problems: [] } : { lines: [], problems: to.problems };
}

function linesOfPairs<S extends EllipsoidStation>(
  { pairs, source }: Extract<LinesAsked, { readonly kind: 'pairs' }>,
  of: StationsOfFile<S>,
): FoundLines<S> {
  const find = stationFinder(of.stations, of.source);
  const problems: Problem[] = [];
  const lines = pairs.flatMap(({ fromId, toId, place }): readonly Line<S>[] => {
    const where = { source, line: place.line };
    const from = find(fromId, where);
    const to = from.ok ? find(toId, where) : from;
    pushAll(problems, to.problems);
    return from.ok && to.ok ? [{ from: from.value, to: to.value, where }] : [];
  });
  return { lines, problems };
}

/** csv-empty: so many points of a file make no line. */
export function noLineProblem(count: number, source: string): Problem {
  return errorProblem('csv-empty', {
    message: `${source} has ${String(count)} ${count === 1 ? 'point' : 'points'}, and a line needs two`,
    where: { source },
  });
}
