import { GRS80 } from '../../core/ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import { localFrameAt } from '../../core/ellipsoid/local-frame.js';
import { congruence3 } from '../../core/numeric/symmetric3.js';
import type { Symmetric3 } from '../../core/numeric/symmetric3.js';
import { carryThroughChain } from '../../core/frames/realisations/carry-through-chain.js';
import { CHAIN_PLATE_MODEL, realisationChain, yearText } from '../../core/frames/realisations/realisation-chain.js';
import type { RealisationChain } from '../../core/frames/realisations/realisation-chain.js';
import { siteAt } from '../../core/frames/realisations/site-estimate.js';
import type { SiteEstimate } from '../../core/frames/realisations/site-estimate.js';
import { platePole } from '../../core/frames/plates/plate-pole.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import { errorProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { BaseCoordinate, BaseSettings, InternationalFrame } from '../../records/session.js';
import { CHAIN_CAUTION, linkWords, sigmaText } from '../transform/steps/realisation-step.js';

/** A site of a SINEX file, and the file in words. */
export interface FiledSite {
  readonly estimate: SiteEstimate;
  /** Name and digest of the file, code and solution of the site. */
  readonly words: string;
}

/**
 * A base whose known coordinate stands in a SINEX file or in an international frame, with the national coordinate in its
 * place: the site at the epoch asked for, then the chain of the national frame. What both add to its uncertainty goes into
 * its sigmas, and what was done is a warning.
 *
 * Given: the base; its site where it names a SINEX file; the national system. Returned: the base as typed in that system.
 * Problems: system-mismatch where no chain leads there; those of the chain; config-invalid-value for grid values or an
 * orthometric height in an international frame.
 */
export function settleBase(
  base: BaseSettings,
  site: FiledSite | null,
  national: GeographicSystem,
): Outcome<BaseSettings> {
  const { knownIn, knownSinex: _, ...plain } = base;
  let point: GeocentricPoint | null = null;
  let { sigmaHorizontalM, sigmaVerticalM } = base;
  const said: Problem[] = [];
  let inFrame: InternationalFrame | null = knownIn ?? null;
  const at = base.known?.at ?? 'mark';
  if (site !== null) {
    const { estimate } = site;
    const epochYear = inFrame?.epochYear ?? estimate.referenceEpochYear;
    const { position, covariance } = siteAt(estimate, epochYear);
    // Without a velocity the place is that of the reference epoch, and the plate moves it from there.
    if (inFrame !== null && estimate.velocity === null)
      inFrame = { ...inFrame, epochYear: estimate.referenceEpochYear };
    const local = inLocalAxes(position, covariance);
    sigmaHorizontalM = Math.sqrt((local.xx + local.yy) / 2);
    sigmaVerticalM = Math.sqrt(local.zz);
    point = position;
    said.push(
      carried(
        base,
        `known is ${site.words} at ${yearText(estimate.velocity === null ? estimate.referenceEpochYear : epochYear)}`,
      ),
    );
  } else if (base.known !== null) point = geocentricOf(base.known);
  if (point === null)
    return failure(
      errorProblem('config-invalid-value', {
        message: 'a coordinate of an international frame is given by grid values or with a height above the geoid',
        hint: 'give x_m, y_m and z_m, or latitude, longitude and ellipsoidal height',
      }),
    );
  if (inFrame === null) return success(settled(plain, point, at, sigmaHorizontalM, sigmaVerticalM), said);
  const chain = chainTo(inFrame, national);
  if (!chain.ok) return chain;
  const there = carryThroughChain(chain.value, point);
  if (!there.ok) return there;
  const { totalM } = chain.value.sigma;
  said.push(
    carried(
      base,
      `${inFrame.code} at ${yearText(inFrame.epochYear)} to ${national.name}: ${linkWords(chain.value)}; ${sigmaText(chain.value)}; moved by ${formatFixed(lengthBetween(point, there.value), 3)} m`,
    ),
  );
  const joined = (sigma: number | null): number => (sigma === null ? totalM : Math.hypot(sigma, totalM));
  return success(settled(plain, there.value, at, joined(sigmaHorizontalM), joined(sigmaVerticalM)), said);
}

function chainTo(
  { code, epochYear, plate }: InternationalFrame,
  national: GeographicSystem,
): Outcome<RealisationChain> {
  const pole = plate === null ? null : platePole(plate, CHAIN_PLATE_MODEL);
  if (pole !== null && !pole.ok) return pole;
  const by = pole === null ? null : ({ kind: 'plate', pole: pole.value } as const);
  // A system without a code is in no table.
  const toCode = national.code ?? 'none';
  const chain = realisationChain({ fromCode: code, toCode, epochYear, by, plateModel: null });
  return (
    chain ??
    failure(
      errorProblem('system-mismatch', {
        message: `no chain leads from ${code} to ${national.name}: the table of national frames does not have it`,
        received: code,
        expected: national.code ?? national.name,
        hint: 'take the coordinate there by the operation of the agency, and type the result',
      }),
    )
  );
}

function settled(
  base: BaseSettings,
  { xM, yM, zM }: GeocentricPoint,
  at: BaseCoordinate['at'],
  sigmaHorizontalM: number | null,
  sigmaVerticalM: number | null,
): BaseSettings {
  return {
    ...base,
    known: { kind: 'geocentric', at, xM, yM, zM, frame: 'national' },
    sigmaHorizontalM,
    sigmaVerticalM,
  };
}

function geocentricOf(known: BaseCoordinate): GeocentricPoint | null {
  if (known.kind === 'geocentric') return known;
  return known.kind === 'geodetic' ? geodeticToGeocentric(known, GRS80) : null;
}

function lengthBetween(one: GeocentricPoint, other: GeocentricPoint): number {
  return Math.hypot(other.xM - one.xM, other.yM - one.yM, other.zM - one.zM);
}

function carried({ id }: BaseSettings, message: string): Problem {
  return warningProblem('base-frame-carried', { message: `base ${id}: ${message}`, hint: CHAIN_CAUTION });
}

/** A covariance along X, Y, Z as one along east (x), north (y) and up (z) of its place. */
function inLocalAxes(position: GeocentricPoint, covariance: Symmetric3): Symmetric3 {
  const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(position, GRS80);
  const { sinLat, cosLat, sinLon, cosLon } = localFrameAt(latitudeDeg, longitudeDeg);
  const axes = {
    xx: -sinLon,
    xy: cosLon,
    xz: 0,
    yx: -sinLat * cosLon,
    yy: -sinLat * sinLon,
    yz: cosLat,
    zx: cosLat * cosLon,
    zy: cosLat * sinLon,
    zz: sinLat,
  };
  return congruence3(axes, covariance);
}
