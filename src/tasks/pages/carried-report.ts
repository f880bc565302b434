import { fromEastNorth } from '../../core/adjustment/site/site-axes.js';
import { transformToSite } from '../../core/adjustment/site/site-transform.js';
import { geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import type { MethodRef } from '../../records/runs/provenance.js';
import type { CarriedMark, CarriedReport, CarriedStep } from '../../records/reports/parts/carried-report.js';
import type { PageFacts } from '../../records/reports/parts/page-facts.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import type { ReportPlace } from '../../records/reports/reduction-report.js';
import type { PlannedTransform } from '../transform/plan-transform.js';
import type { PointOnTheWay } from '../transform/point-on-the-way.js';
import { formWritten } from '../transform/transform-plan.js';
import { aboutTheMiddle } from './about-the-middle.js';
import type { CarriedPoints, PlacedMark } from './carried-points.js';
import { nextOfCarried } from './carried-next-steps.js';
import { columnAxes, localAxes } from './report-axes.js';
import type { ReportAxes } from './report-axes.js';

/** What the page says that neither the plan of the transformation nor its points know. */
export type CarriedSurroundings = Pick<
  CarriedReport,
  keyof PageFacts | 'answer' | 'way' | 'columns' | 'hasDms' | 'statements' | 'outside' | 'leftOut'
> & { readonly carried: number; readonly refused: number; readonly withoutPlace: number };

/** Where a carried point stands: in the plane that it arrived in, about an origin, or in space. */
export function carriedPlace(planned: PlannedTransform): (point: PointOnTheWay) => ReportPlace | GeocentricPoint {
  const { plan } = planned;
  const { ellipsoid } = plan.to.geographic;
  switch (formWritten(plan)) {
    case 'plane':
      return ({ first, second }) => ({ first, second });
    case 'topocentric':
      return ({ eastM, northM }) => ({ first: eastM, second: northM });
    case 'geocentric':
      return ({ xM, yM, zM }) => ({ xM, yM, zM });
    case 'place':
      // A plan of places needs no heights.
      return ({ latitudeDeg, longitudeDeg }) =>
        geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM: 0 }, ellipsoid);
  }
}

/** Carried points as their page shows them. */
export function carriedReport(
  planned: PlannedTransform,
  points: CarriedPoints,
  { carried, refused, withoutPlace, ...about }: CarriedSurroundings,
): CarriedReport {
  const { end, to } = planned;
  const { axes, marks } = planOf(planned, points.marks);
  const site = end?.at === 'out' ? end.site : null;
  const report = {
    ...about,
    ...points,
    systemName: site === null ? to.label : `the site fitted in ${site.system} ${site.systemName}`,
    axes,
    marks,
    counts: { carried, refused, withoutPlace, inDoubt: points.inDoubt },
    hull:
      site === null
        ? null
        : site.transform.hull.map((corner) =>
            fromEastNorth(site.siteAxes, transformToSite(site.transform.horizontal, corner)),
          ),
    steps: planned.methods.map(stepOf),
    isOfSite: end?.site != null,
  };
  return { ...report, next: nextOfCarried(report) };
}

function stepOf({ id, name, accuracyM, origin, source }: MethodRef): CarriedStep {
  // A method that is no operation states neither accuracy nor origin.
  const said = origin ?? (source === undefined ? null : sourceWords(source));
  return { id, name, accuracyM: accuracyM ?? null, origin: said };
}

/** Where a method is published: a page of this documentation says nothing to those whom the page is for. */
function sourceWords({ key, locator }: NonNullable<MethodRef['source']>): string {
  return locator.startsWith('docs/') ? key : `${key}, ${locator}`;
}

function planOf(
  { plan, to, end }: PlannedTransform,
  placed: readonly PlacedMark[],
): { readonly axes: ReportAxes; readonly marks: readonly CarriedMark[] } {
  const positions = placed.flatMap(({ place }) => ('xM' in place ? place : []));
  if (positions.length === 0)
    return {
      axes: flatAxes({ plan, to, end }),
      marks: placed.flatMap(({ place, ...mark }) => ('xM' in place ? [] : { ...mark, place })),
    };
  const { placeOf } = aboutTheMiddle(positions, to.geographic.ellipsoid);
  return {
    axes: localAxes('of the middle'),
    marks: placed.map(({ place, ...mark }) => ({ ...mark, place: 'xM' in place ? placeOf(place) : place })),
  };
}

function flatAxes({ plan, to, end }: Pick<PlannedTransform, 'plan' | 'to' | 'end'>): ReportAxes {
  if (formWritten(plan) !== 'plane') return localAxes('of the origin');
  const site = end?.at === 'out' ? end.site : null;
  if (site !== null) return columnAxes(site.siteAxes.columns, site.siteAxes.metresPerUnit);
  return to.grid?.axes ?? localAxes('of the middle');
}
