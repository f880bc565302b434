import { implausibleGeocentric } from '../../../../core/ellipsoid/implausible-geocentric.js';
import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { EndRequest } from '../../../../tasks/transform/plan-end.js';
import type { TopocentricOrigin } from '../../../../tasks/transform/steps/topocentric-step.js';
import { parsePlaceAndHeight } from '../../../inputs/parse-place.js';
import { flagOption, numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { OpenedSite } from './open-site.js';

const TOPOCENTRIC = '--topocentric-at';
/** Before a geocentric origin, as EPSG 9836 has it. */
const GEOCENTRIC_ORIGIN = /^xyz:/iu;

/**
 * What is done at one end: --ground-at, --topocentric-at or the site; null for none of them.
 * Problems: usage-conflict for two of them and for an option that belongs to one that is not there; usage-invalid.
 */
export function endOptions(invocation: Invocation, site: OpenedSite | null): Outcome<EndRequest | null> {
  const ground = textOption(invocation, 'groundAt');
  const topocentric = textOption(invocation, 'topocentricAt');
  const toleranceM = numberOption(invocation, 'groundTolerance');
  const extrapolate = flagOption(invocation, 'extrapolate');
  if (ground === null && toleranceM !== null)
    return conflict(
      '--ground-tolerance needs --ground-at',
      'give the place the ground scale holds at: --ground-at LAT,LON,H',
    );
  if (site === null && extrapolate)
    return conflict('--extrapolate needs --site', 'it lets points lie outside the control of a site');
  if (topocentric !== null && ground !== null) {
    return conflict(
      `${TOPOCENTRIC} and --ground-at exclude each other`,
      'ground coordinates are scaled from a grid; topocentric ones stand on the normal at their origin',
    );
  }
  if (site !== null) {
    const isBackFrom = topocentric !== null || ground !== null;
    if (!isBackFrom) return success({ kind: 'site', site: site.site, extrapolate });
    return conflict(
      `--site and ${ground === null ? TOPOCENTRIC : '--ground-at'} exclude each other`,
      'a site has coordinates of its own: go from the one to the other in two runs, through latitude and longitude',
    );
  }
  if (ground !== null) return groundEnd(ground, toleranceM);
  if (topocentric === null) return success(null);
  const origin = GEOCENTRIC_ORIGIN.test(topocentric) ? geocentricOrigin(topocentric) : geodeticOrigin(topocentric);
  return origin.ok ? success({ kind: 'topocentric', origin: origin.value }) : origin;
}

function groundEnd(text: string, toleranceM: number | null): Outcome<EndRequest> {
  if (toleranceM !== null && !(toleranceM > 0)) {
    return failure(
      errorProblem('usage-invalid', {
        message: `--ground-tolerance ${String(toleranceM)} is not above 0 metres`,
        received: String(toleranceM),
      }),
    );
  }
  const place = parsePlaceAndHeight(text, '--ground-at');
  return place.ok ? success({ kind: 'ground', place: place.value, toleranceM }) : place;
}

function geodeticOrigin(text: string): Outcome<TopocentricOrigin> {
  const place = parsePlaceAndHeight(text, TOPOCENTRIC);
  return place.ok ? success({ kind: 'geodetic', at: place.value }) : place;
}

function geocentricOrigin(text: string): Outcome<TopocentricOrigin> {
  const [xM, yM, zM, ...more] = text
    .replace(GEOCENTRIC_ORIGIN, '')
    .split(',')
    .map((part) => parseDecimal(part.trim()));
  if (xM == null || yM == null || zM == null || more.length > 0) {
    return failure(
      errorProblem('usage-invalid', {
        message: `${TOPOCENTRIC} ${text} is not xyz:X,Y,Z`,
        received: text,
        hint: `for example ${TOPOCENTRIC} xyz:3652755.306,319574.680,5201547.354: geocentric metres`,
      }),
    );
  }
  const doubt = implausibleGeocentric({ xM, yM, zM }, null);
  if (doubt !== null) return failure({ ...doubt, code: 'usage-invalid', message: `${TOPOCENTRIC}: ${doubt.message}` });
  return success({ kind: 'geocentric', at: { xM, yM, zM } });
}

function conflict(message: string, hint: string): Outcome<never> {
  return failure(errorProblem('usage-conflict', { message, hint }));
}
