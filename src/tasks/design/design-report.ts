import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { DesignReport } from '../../records/reports/design-report.js';
import type { PageFacts } from '../../records/reports/parts/page-facts.js';
import { columnAxes } from '../pages/report-axes.js';
import type { DesignRun } from './run-design.js';

/** Points of the page, those of the largest distortion first. */
const MOST_POINTS = 2000;

/** A project grid as its page shows it. */
export function designReport(
  run: DesignRun,
  { base }: GridSystem,
  about: Pick<DesignReport, keyof PageFacts | 'surveyed' | 'answer'>,
): DesignReport {
  const isOnly = ({ station }: (typeof run.points)[number]): number => Number(station.pointId === about.onlyPoint);
  const { name, design, proj, wkt, measure, distortion, heightCost, heightsAreOrthometric, candidates, points } = run;
  return {
    ...about,
    name,
    axes: columnAxes(['easting_m', 'northing_m'], 1),
    baseName: base.name,
    method: design.method,
    proj,
    wkt,
    measure,
    distortion,
    heightCost,
    heightsAreOrthometric,
    candidates: candidates.map((one) => ({ method: one.design.method, distortion: one.distortion })),
    count: points.length,
    points: [...points]
      .sort((a, b) => isOnly(b) - isOnly(a) || Math.abs(b.distortion) - Math.abs(a.distortion))
      .slice(0, MOST_POINTS)
      .map((point) => ({
        pointId: point.station.pointId,
        place: { first: point.eastingM, second: point.northingM },
        heightM: point.heightM,
        distortion: point.distortion,
      })),
  };
}
