import { largestOf, smallestOf } from '../../../core/numeric/extremes.js';
import { convexHull } from '../../../core/adjustment/convex-hull.js';
import type { PlanePoint } from '../../../core/adjustment/convex-hull.js';
import { fromEastNorth } from '../../../core/adjustment/site/site-axes.js';
import type { SiteDocument } from '../../../core/adjustment/site/site-document.js';
import { transformToSite } from '../../../core/adjustment/site/site-transform.js';
import type { HeightSurface } from '../../../core/heights/height-surface.js';
import { leaveOneOut } from '../../../core/heights/leave-one-out.js';
import { surfaceAtM, surfaceVarianceM2 } from '../../../core/heights/surface-at.js';
import type { ReportPlace } from '../../../records/reports/reduction-report.js';
import type { SurfaceReport } from '../../../records/reports/surface-report.js';
import type { SurfaceFit } from './surface-fit.js';
import { surfaceSensitivity } from './surface-sensitivity.js';

/** Places of the map, across and up, and how far it reaches beyond the benchmarks, as a part of their extent. */
const ACROSS = 11;
const UP = 9;
const BEYOND = 0.2;

/** A surface as its page shows it. Given: the surface with its variance factor; how it was fitted; its site. */
export function surfaceReportOf(surface: HeightSurface, fit: SurfaceFit, site: SiteDocument): SurfaceReport {
  const { benchmarks, signal } = surface;
  const onSite = (place: PlanePoint): ReportPlace =>
    fromEastNorth(site.siteAxes, transformToSite(site.transform.horizontal, place));
  const hull = convexHull(benchmarks.map(({ place }) => place));
  const left = leaveOneOut(surface);
  return {
    trend: surface.trend,
    trendIsStated: fit.trendIsStated,
    hasUntoldTilt: surface.untold !== null,
    candidates: fit.candidates.map(({ trend, leftOutRmsM, fTest }) => ({ trend, leftOutRmsM, f: fTest })),
    signal: {
      ...signal,
      sigmaFrom: fit.signalOrigin.sigma,
      lengthFrom: fit.signalOrigin.length,
      likely: surface.likely.length,
    },
    sensitivity: surfaceSensitivity(surface, hull),
    leftOut: benchmarks
      .map(({ pointId }, at) => ({ pointId, errorM: left[at]?.errorM ?? null, sigmaM: left[at]?.sigmaM ?? null }))
      .sort((a, b) => Math.abs(b.errorM ?? Infinity) - Math.abs(a.errorM ?? Infinity)),
    map: mapPlaces(benchmarks.map(({ place }) => place)).map((place) => ({
      place: onSite(place),
      correctionM: surfaceAtM(surface, place),
      sigmaM: Math.sqrt(surfaceVarianceM2(surface, place)),
    })),
    benchmarks: benchmarks.map(({ pointId, place }) => ({ pointId, place: onSite(place) })),
    hull: hull.map(onSite),
  };
}

function mapPlaces(places: readonly PlanePoint[]): readonly PlanePoint[] {
  const ends = (values: readonly number[]): readonly [number, number] => {
    const [least, most] = [smallestOf(values, Infinity), largestOf(values, -Infinity)];
    const more = BEYOND * Math.max(most - least, 100);
    return [least - more, most + more];
  };
  const east = ends(places.map(({ eastM }) => eastM));
  const north = ends(places.map(({ northM }) => northM));
  const at = ([least, most]: readonly [number, number], i: number, of: number): number =>
    least + ((most - least) * i) / (of - 1);
  return Array.from({ length: ACROSS * UP }, (_, i) => ({
    eastM: at(east, i % ACROSS, ACROSS),
    northM: at(north, Math.floor(i / ACROSS), UP),
  }));
}
