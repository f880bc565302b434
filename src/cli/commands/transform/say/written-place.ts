import type { PointsFrame } from '../../../../files/points/points-writer.js';
import type { PlannedTransform } from '../../../../tasks/transform/plan-transform.js';
import type { PointOnTheWay } from '../../../../tasks/transform/point-on-the-way.js';
import type { WrittenRow } from '../../../outputs/row-writer.js';
import { present } from '../../../../records/present.js';

/** What the output says once of the frame of its positions; `origin`: of topocentric coordinates, as typed. */
export function writtenFrame({ to, end, epochYear }: PlannedTransform, origin: string | null): PointsFrame {
  const isOut = end?.at === 'out';
  const system =
    isOut && end.site !== null
      ? `site fitted in ${end.site.system}`
      : isOut && end.kind === 'topocentric'
        ? `topocentric about ${present(origin, '--topocentric')}, ${to.name}`
        : to.name;
  return { frame: to.geographic.code ?? to.geographic.name, epochYear, system };
}

/**
 * The row as it is written, with its place for GeoJSON. A height is part of the place where it is one of the target's
 * frame: that of a site is not, and beside a site alone no ellipsoidal height is reckoned.
 */
export function writtenPlace({
  end,
  isOwnSite,
}: PlannedTransform): (cells: readonly string[], point: PointOnTheWay) => WrittenRow {
  const hasHeight = end?.kind !== 'site' || (end.at === 'in' && !isOwnSite);
  return (cells, { latitudeDeg, longitudeDeg, ellipsoidalHeightM }) => ({
    cells,
    latitudeDeg,
    longitudeDeg,
    ellipsoidalHeightM: hasHeight ? ellipsoidalHeightM : null,
  });
}
