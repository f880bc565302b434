import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import { geoidProblem } from '../../core/geoid/geoid-problem.js';
import { ellipsoidalHeightM, orthometricHeightM } from '../../core/geoid/orthometric-height.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { EllipsoidStation } from '../../records/points/point-join.js';
import type { PointRow } from '../../records/points/point-row.js';
import { present } from '../../records/present.js';
import { errorProblem } from '../../records/problem.js';

/**
 * A point by its latitude and longitude, with the height of the other kind where a geoid is named.
 * Given: its row; the geoid, or null. Problems: value-missing for a row without a place; those of the geoid.
 */
export function ellipsoidStation(row: PointRow, geoid: GeoidModel | null): Outcome<EllipsoidStation> {
  const { latitudeDeg, longitudeDeg } = row;
  if (latitudeDeg === null || longitudeDeg === null) {
    return failure(
      errorProblem('value-missing', {
        message: `${row.pointId} has no latitude and longitude`,
        hint: 'grid pairs need their projected system: --system EPSG:n',
      }),
    );
  }
  const heights = bothHeights(row, { latitudeDeg, longitudeDeg }, geoid);
  if (!heights.ok) return heights;
  const { pointId, occupation, place } = row;
  return success({ pointId, occupation, latitudeDeg, longitudeDeg, ...heights.value, place });
}

/**
 * The heights of a point, the other kind filled in by h = H + N where a geoid is named and one is known.
 * Given: its row; its place in the frame of the geoid. Problems: those of `geoidProblem`.
 */
export function bothHeights(
  row: Pick<PointRow, 'ellipsoidalHeightM' | 'orthometricHeightM'>,
  { latitudeDeg, longitudeDeg }: { readonly latitudeDeg: number; readonly longitudeDeg: number },
  geoid: GeoidModel | null,
): Outcome<Pick<EllipsoidStation, 'ellipsoidalHeightM' | 'orthometricHeightM'>> {
  let { ellipsoidalHeightM: h, orthometricHeightM: orthometric } = row;
  if (geoid !== null && (h === null) !== (orthometric === null)) {
    const n = geoid.heightAt(latitudeDeg, longitudeDeg);
    if (n === null) {
      const status = geoid.statusAt(latitudeDeg, longitudeDeg);
      return failure(geoidProblem(status === 'nodata' ? 'nodata' : 'outside', latitudeDeg, longitudeDeg, geoid.grid));
    }
    h ??= ellipsoidalHeightM(present(orthometric, 'the one height that is known'), n);
    orthometric ??= orthometricHeightM(h, n);
  }
  return success({ ellipsoidalHeightM: h, orthometricHeightM: orthometric });
}
