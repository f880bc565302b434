import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { ControlPair } from '../control/pair-control.js';

/** Heights that agree with the other kind to this part of what they differ by from their own are of the other kind. */
const OTHER_KIND_PART = 0.25;
/** Where the two kinds differ by less nothing can be told, metres. */
const LEAST_GEOID_HEIGHT_M = 1;
const NAMED = 5;

/**
 * Benchmarks that are not in the height system of the others: named by the other kind of height, or filled with it.
 * Given: the control to be fitted, as read, and paired; the kind that is fitted; the name of the control file.
 * Returned: site-height-system for each sort; none where all is well.
 */
export function heightSystemProblems(
  control: readonly PointRow[],
  pairs: readonly ControlPair[],
  kind: 'orthometric' | 'ellipsoidal',
  source: string,
): readonly Problem[] {
  const other = kind === 'orthometric' ? 'ellipsoidal' : 'orthometric';
  const heights = (row: Pick<PointRow, 'orthometricHeightM' | 'ellipsoidalHeightM'>, of: typeof kind): number | null =>
    of === 'orthometric' ? row.orthometricHeightM : row.ellipsoidalHeightM;
  const otherwise = control.filter((row) => heights(row, kind) === null && heights(row, other) !== null);
  const filled = pairs.flatMap((pair) => {
    const { controlHeightM, measured } = pair;
    const [own, strange] = [heights(measured.station, kind), heights(measured.station, other)];
    if (controlHeightM === null || own === null || strange === null) return [];
    const offM = Math.abs(controlHeightM - own);
    const isOther = offM > LEAST_GEOID_HEIGHT_M && Math.abs(controlHeightM - strange) < OTHER_KIND_PART * offM;
    return isOther ? [{ row: pair.control, offM }] : [];
  });
  const problems: Problem[] = [];
  const [first] = otherwise;
  if (first !== undefined)
    problems.push(
      errorProblem('site-height-system', {
        message: `${named(otherwise.map(({ pointId }) => pointId))} ${otherwise.length === 1 ? 'has' : 'have'} an ${other} height only, and the other benchmarks an ${kind} one`,
        where: { source, line: first.place.line },
        hint: 'bring all benchmarks to one height system, or leave those out',
      }),
    );
  const [odd] = filled;
  if (odd !== undefined)
    problems.push(
      errorProblem('site-height-system', {
        message: `${named(filled.map(({ row }) => row.pointId))}: an ${other} height stands where an ${kind} one is said to, ${formatFixed(odd.offM, 3)} m off the measured one at ${odd.row.pointId}`,
        where: { source, line: odd.row.place.line },
        hint: `name the column ${other}_height_m, or put ${kind} heights in it`,
      }),
    );
  return problems;
}

function named(ids: readonly string[]): string {
  const more = ids.length - NAMED;
  return `${ids.slice(0, NAMED).join(', ')}${more > 0 ? ` and ${String(more)} more` : ''}`;
}
