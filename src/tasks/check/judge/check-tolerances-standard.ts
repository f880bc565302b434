import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { nssdaHorizontal, nssdaVertical } from '../../../core/quality/standards/nssda.js';
import type { NssdaStatement } from '../../../core/quality/standards/nssda.js';
import type { Standard } from '../../../core/quality/standards/standards.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { classStatements } from './check-tolerances-classes.js';
import type { StandardStatement } from './check-tolerances-standard-statement.js';
import type { ControlSummary } from '../check-tolerances-summary.js';
import { countOf } from '../../reduce/record-search.js';

const m = (metres: number): string => `${formatFixed(metres, 3)} m`;

/**
 * What a standard says of a run: never more than it allows. Limits of a standard are judged row by row elsewhere; this is
 * what it asks of the whole, and what of it was not judged. `checkPoints` counts different control points: occupations of one are not independent. `hasFixes`: the raw fixes are
 * judged beside the points.
 */
export function standardStatements(
  standard: Standard,
  points: Iterable<PointRow>,
  summary: ControlSummary | null,
  checkPoints: number,
  hasFixes: boolean,
): readonly StandardStatement[] {
  return [...ownStatements(standard, points, summary, checkPoints, hasFixes), ...notJudged(standard)];
}

/** What the standard asks and no file shows: said each time, so that no verdict is read as covering it. */
export function notJudged({ notJudged: list }: Pick<Standard, 'notJudged'>): readonly StandardStatement[] {
  return list.length === 0
    ? []
    : [
        {
          what: 'asked by the standard and not judged here',
          text: `cannot be stated: ${list.join('; ')}`,
          verdict: 'information',
        },
      ];
}

function ownStatements(
  standard: Standard,
  points: Iterable<PointRow>,
  summary: ControlSummary | null,
  checkPoints: number,
  hasFixes: boolean,
): readonly StandardStatement[] {
  switch (standard.kind) {
    case 'nssda':
      return nssdaStatements(summary, checkPoints);
    case 'classes':
      return classStatements(points);
    case 'limits':
      return acceptanceStatements(standard, points, hasFixes);
    case 'iso-17123-8':
      return [];
  }
}

function nssdaStatements(summary: ControlSummary | null, checkPoints: number): readonly StandardStatement[] {
  const { first = null, second = null, up = null } = summary ?? {};
  const statements: StandardStatement[] = [];
  if (first === null || second === null)
    statements.push({
      what: 'horizontal accuracy',
      text: 'cannot be stated: no check points in plan; 20 are needed',
      verdict: 'not-stated',
    });
  else
    statements.push(
      nssdaText('horizontal accuracy', nssdaHorizontal(first.rmse, second.rmse, checkPoints), checkPoints),
    );
  if (up !== null)
    statements.push(
      nssdaText(
        'vertical accuracy',
        nssdaVertical(up.rmse, Math.min(checkPoints, up.count)),
        Math.min(checkPoints, up.count),
      ),
    );
  if ([first, second, up].some((axis) => axis?.isBiased === true)) {
    statements.push({
      what: 'systematic error',
      text: 'a bias is significant; the standard assumes it has been removed',
      verdict: 'information',
    });
  }
  return statements;
}

function nssdaText(what: string, statement: NssdaStatement, count: number): StandardStatement {
  if (statement.accuracy95M !== null) {
    return {
      what,
      text: `tested ${m(statement.accuracy95M)} at 95 % confidence from ${String(count)} check points (${statement.method})`,
      verdict: 'information',
    };
  }
  if (statement.reason === 'too-few-points')
    return {
      what,
      text: `cannot be stated: ${String(count)} check point${count === 1 ? '' : 's'}, ${String(statement.pointsNeeded)} more are needed`,
      verdict: 'not-stated',
    };
  return {
    what,
    text: 'cannot be stated: the RMSEs of the two axes differ by more than the standard has a formula for',
    verdict: 'not-stated',
  };
}

function acceptanceStatements(
  standard: Standard,
  points: Iterable<PointRow>,
  hasFixes: boolean,
): readonly StandardStatement[] {
  const { acceptance } = standard;
  if (acceptance === null) return [];
  const statements: StandardStatement[] = [];
  const { maxBaselineM, minDurationS, minOccupations, minSeparationS, maxPdop, minSatellites, minBases } = acceptance;
  if (!hasFixes && (maxPdop !== null || minSatellites !== null))
    statements.push({
      what: 'PDOP and satellites',
      text: 'cannot be stated without the raw fixes: add --fixes FILE',
      verdict: 'not-stated',
    });
  const bases = new Set<string>();
  for (const { baseId } of points) if (baseId !== null) bases.add(baseId);
  if (bases.size < minBases)
    statements.push({
      what: 'bases',
      text: `cannot be stated: ${String(bases.size)} in the points, ${String(minBases - bases.size)} more ${minBases - bases.size === 1 ? 'is' : 'are'} needed`,
      verdict: 'not-stated',
    });
  if (maxBaselineM !== null) {
    const far = idsWhere(points, (point) => point.baselineM !== null && point.baselineM > maxBaselineM);
    const unknown = countOf(points, (point) => point.baselineM === null);
    if (far.length > 0)
      statements.push({
        what: 'baseline',
        text: `${names(far)} farther than ${String(maxBaselineM / 1000)} km from the base`,
        verdict: 'exceeds',
      });
    if (unknown > 0)
      statements.push({
        what: 'baseline',
        text: `cannot be stated for ${String(unknown)} points without baseline_m`,
        verdict: 'not-stated',
      });
  }
  if (minDurationS !== null) {
    const brief = idsWhere(
      points,
      (point) =>
        point.firstEpochMs !== null &&
        point.lastEpochMs !== null &&
        (point.lastEpochMs - point.firstEpochMs) / 1000 + 1 < minDurationS,
    );
    const untimed = countOf(points, (point) => point.firstEpochMs === null || point.lastEpochMs === null);
    if (untimed > 0)
      statements.push({
        what: 'duration',
        text: `cannot be stated for ${String(untimed)} points without first_epoch_utc and last_epoch_utc`,
        verdict: 'not-stated',
      });
    if (brief.length > 0)
      statements.push({
        what: 'duration',
        text: `${names(brief)} observed for less than ${String(minDurationS)} s`,
        verdict: 'exceeds',
      });
  }
  if (minOccupations > 1) statements.push(occupationStatement(points, minOccupations, minSeparationS));
  return statements;
}

function occupationStatement(points: Iterable<PointRow>, wanted: number, separationS: number): StandardStatement {
  const times = new Map<string, number[]>();
  for (const { pointId, firstEpochMs } of points)
    times.set(pointId, [...(times.get(pointId) ?? []), ...(firstEpochMs === null ? [] : [firstEpochMs])]);
  const lacking = [...times].filter(([, list]) => independent(list, separationS) < wanted).map(([pointId]) => pointId);
  if (lacking.length === 0)
    return {
      what: 'repeat',
      text: `every point has ${String(wanted)} occupations at least ${formatFixed(separationS / 3600, 1)} h apart`,
      verdict: 'within',
    };
  return {
    what: 'repeat',
    text: `cannot be stated: ${names(lacking)} without ${String(wanted)} occupations at least ${formatFixed(separationS / 3600, 1)} h apart in the time of day`,
    verdict: 'not-stated',
  };
}

/** Occupations that are apart from one another in the time of day, greedily from the earliest. */
function independent(timesMs: readonly number[], separationS: number): number {
  const dayS = 86_400;
  const kept: number[] = [];
  for (const time of [...timesMs].sort((a, b) => a - b)) {
    const apart = kept.every((other) => {
      const s = (Math.abs(time - other) / 1000) % dayS;
      return Math.min(s, dayS - s) >= separationS;
    });
    if (apart) kept.push(time);
  }
  return kept.length;
}

function idsWhere(points: Iterable<PointRow>, test: (point: PointRow) => boolean): readonly string[] {
  const ids = new Set<string>();
  for (const point of points) if (test(point)) ids.add(point.pointId);
  return [...ids];
}

function names(ids: readonly string[]): string {
  return `${ids.slice(0, 6).join(', ')}${ids.length > 6 ? ` and ${String(ids.length - 6)} more` : ''} ${ids.length === 1 ? 'is' : 'are'}`;
}
