import type { SiteDocument } from '../../core/adjustment/site/site-document.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { GeodeticPoint } from '../../records/points/point.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { exchangedDegrees } from '../bases/place-doubt.js';
import type { NamedSide } from './change/named-side.js';
import { createGroundSpread } from './ground-spread.js';
import type { GroundSpread } from './ground-spread.js';
import type { Leg, Step } from './step.js';
import { groundStep } from './steps/ground-step.js';
import { siteStep } from './steps/site-step.js';
import { topocentricStep } from './steps/topocentric-step.js';
import type { TopocentricOrigin } from './steps/topocentric-step.js';

/** What is done at one end: to the target's coordinates, or undone from the source's. */
export type EndRequest =
  | { readonly kind: 'ground'; readonly place: GeodeticPoint; readonly toleranceM: number | null }
  | { readonly kind: 'topocentric'; readonly origin: TopocentricOrigin }
  | { readonly kind: 'site'; readonly site: SiteDocument; readonly extrapolate: boolean };

/** The step at one end, and what it makes of that end. */
export interface PlannedEnd {
  readonly kind: EndRequest['kind'];
  /** `in`: the file holds its coordinates, and they are taken back. */
  readonly at: 'in' | 'out';
  readonly leg: Leg;
  /** The side at that end as the step needs it. */
  readonly side: NamedSide;
  /** Its own names for the two columns of a pair, such as `ground_westing_m`; null: it has no pair. */
  readonly columns: readonly [string, string] | null;
  /** The combined factor over the job, to be gathered point by point; with `ground` only. */
  readonly spread: GroundSpread | null;
  readonly toleranceM: number | null;
  /** With `site` only. */
  readonly site: SiteDocument | null;
}

/**
 * The end that is asked for, at the target, or with `inverse` at the source.
 * Problems: system-mismatch where that side is no conformal projection (ground) or a projected system (topocentric);
 * those of the place.
 */
export function planEnd(request: EndRequest, from: NamedSide, to: NamedSide, inverse: boolean): Outcome<PlannedEnd> {
  const side = inverse ? from : to;
  const at = inverse ? 'in' : 'out';
  const leg = (step: Step): Leg => ({ step, direction: inverse ? 'inverse' : 'forward' });
  const doubt = placeAskedDoubt(request, side);
  if (doubt !== null) return failure(doubt);
  const common = { kind: request.kind, at, side, columns: null, spread: null, toleranceM: null, site: null } as const;
  switch (request.kind) {
    case 'ground': {
      const { grid } = side;
      if (grid?.projection.conformal !== true) return failure(notConformal(side));
      const ground = groundStep(grid, request.place);
      if (!ground.ok) return ground;
      const spread = createGroundSpread(grid, ground.value.combinedFactor, request.place);
      const { toleranceM } = request;
      return success({ ...common, leg: leg(ground.value.step), columns: groundColumns(grid), spread, toleranceM });
    }
    case 'topocentric':
      if (side.kind === 'projected') return failure(noFrame(side, inverse));
      return success({
        ...common,
        leg: leg(topocentricStep(request.origin, side.geographic)),
        side: { ...side, kind: 'geocentric' },
      });
    case 'site': {
      const { site } = request;
      return success({
        ...common,
        leg: leg(siteStep(site, request.extrapolate)),
        columns: site.siteAxes.columns,
        site,
      });
    }
  }
}

/** The place of a ground scale or an origin that lies in the area of the system only when exchanged, or with another sign. */
function placeAskedDoubt(request: EndRequest, { grid, geographic }: NamedSide): Problem | null {
  const asked =
    request.kind === 'ground'
      ? { option: '--ground-at', ...request.place }
      : request.kind === 'topocentric' && request.origin.kind === 'geodetic'
        ? { option: '--topocentric-at', ...request.origin.at }
        : null;
  if (asked === null) return null;
  const { option, latitudeDeg, longitudeDeg } = asked;
  const doubt = exchangedDegrees(latitudeDeg, longitudeDeg, { grid, fixesSystem: geographic });
  if (doubt?.severity !== 'error') return null;
  return errorProblem('usage-invalid', {
    message: `${option}: ${doubt.message}`,
    received: `${String(latitudeDeg)},${String(longitudeDeg)}`,
    hint: `the latitude comes first, north and east are positive: ${option} LAT,LON,H`,
  });
}

function groundColumns({ axes }: GridSystem): readonly [string, string] {
  return [`ground_${axes[0].columnName}`, `ground_${axes[1].columnName}`];
}

function notConformal({ grid, label }: NamedSide): Problem {
  return errorProblem('system-mismatch', {
    message:
      grid === null
        ? `ground coordinates are scaled from a grid, and ${label} is no projected system`
        : `the scale of ${label} differs with direction, so no single factor leads to the ground`,
    received: label,
    hint: 'name a conformal projected system, such as a transverse Mercator zone',
  });
}

function noFrame({ label, name, geographic }: NamedSide, inverse: boolean): Problem {
  return errorProblem('system-mismatch', {
    message: `topocentric coordinates stand in a geographic frame, and ${label} is a projected system`,
    received: name,
    expected: geographic.code ?? 'a geographic or geocentric system',
    hint: `give ${inverse ? '--from' : '--to'} ${geographic.code ?? 'the geographic system'} (${geographic.name}), the frame of the origin`,
  });
}
