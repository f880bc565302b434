import { covarianceFromSigmas } from '../../../core/observation/uncertainty/local-covariance.js';
import { positionalUncertainty } from '../../../core/observation/uncertainty/positional-uncertainty.js';
import { accuracyClass } from '../../../core/quality/standards/standards.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { StandardStatement } from './check-tolerances-standard-statement.js';

/** Which height `sigma_up_m` of a point is of. A row that gives both is of its ellipsoidal one: the geoid's own sigma is not in it. */
export type ClassHeight = 'ellipsoidal height' | 'orthometric height' | 'no height given';

/** The class of a point by its stated uncertainty; figures are null where it states no sigmas. */
export interface PointClass {
  readonly row: PointRow;
  readonly circle95M: number | null;
  readonly vertical95M: number | null;
  /** In words, such as `2-centimetre`; empty where it cannot be stated. */
  readonly horizontal: string;
  readonly vertical: string;
  readonly height: ClassHeight;
}

/** The class of one point from the 95 % figures of its covariance. Reference: FGDC-STD-007.2, table 2.1. */
export function pointClass(row: PointRow): PointClass {
  const { sigmaEastM, sigmaNorthM, sigmaUpM, correlationEn } = row;
  const height: ClassHeight =
    row.ellipsoidalHeightM !== null
      ? 'ellipsoidal height'
      : row.orthometricHeightM !== null
        ? 'orthometric height'
        : 'no height given';
  if (sigmaEastM === null || sigmaNorthM === null || sigmaUpM === null)
    return { row, circle95M: null, vertical95M: null, horizontal: '', vertical: '', height };
  const { circle95M, vertical95M } = positionalUncertainty(
    covarianceFromSigmas(sigmaEastM, sigmaNorthM, sigmaUpM, correlationEn),
    null,
  );
  return { row, circle95M, vertical95M, horizontal: className(circle95M), vertical: className(vertical95M), height };
}

/** How many points are of each class. */
export function classStatements(points: Iterable<PointRow>): readonly StandardStatement[] {
  const counts = new Map<string, number>();
  let unknown = 0;
  for (const point of points) {
    const { circle95M, horizontal, vertical, height } = pointClass(point);
    if (circle95M === null) unknown += 1;
    else
      counts.set(
        `${horizontal} horizontal, ${vertical} ${height}`,
        (counts.get(`${horizontal} horizontal, ${vertical} ${height}`) ?? 0) + 1,
      );
  }
  const statements = [...counts].map(([key, count]): StandardStatement => ({
    what: 'class of stated uncertainty',
    text: `${key}: ${String(count)} ${count === 1 ? 'point' : 'points'}`,
    verdict: 'information',
  }));
  if (unknown > 0)
    statements.push({
      what: 'class of stated uncertainty',
      text: `cannot be stated for ${String(unknown)} points: they give no sigmas`,
      verdict: 'not-stated',
    });
  return statements;
}

function className(figureM: number): string {
  const size = accuracyClass(figureM);
  if (size === null) return 'beyond 10 m';
  if (size < 0.01) return `${String(Math.round(size * 1000))}-millimetre`;
  if (size < 0.1) return `${String(Math.round(size * 100))}-centimetre`;
  return size < 1 ? `${String(Math.round(size * 10))}-decimetre` : `${String(size)}-metre`;
}
