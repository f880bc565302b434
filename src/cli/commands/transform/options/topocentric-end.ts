import { topocentricAtGeocentric, topocentricAtGeodetic } from '../../../../core/frames/shifts/shift-topocentric.js';
import type { Topocentric } from '../../../../core/frames/shifts/shift-topocentric.js';
import { geocentricToGeodetic } from '../../../../core/ellipsoid/geocentric.js';
import { implausibleGeocentric } from '../../../../core/ellipsoid/implausible-geocentric.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { MethodRef } from '../../../../records/provenance.js';
import { textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import { parsePlaceAndHeight } from '../../../inputs/parse-place.js';
import type { LoadedSide } from './transform-side.js';

/** East, north and up about an origin, at one end of a transformation. */
export interface TopocentricEnd {
  /** `in`: the file holds topocentric coordinates and --inverse takes them back. */
  readonly end: 'in' | 'out';
  /** That end with its coordinates about the origin, in its own frame. */
  readonly side: LoadedSide;
  readonly method: MethodRef;
  readonly said: readonly string[];
}

const OPTION = '--topocentric-at';
/** Before a geocentric origin, as EPSG 9836 has it. */
const GEOCENTRIC_ORIGIN = /^xyz:/iu;

/**
 * The topocentric end of --topocentric-at, `LAT,LON,H` (EPSG 9837) or `xyz:X,Y,Z` (EPSG 9836), in the frame of
 * --to, or of --from with --inverse; null where it is not given.
 * Problems: usage-conflict beside --ground-at; usage-invalid; system-mismatch where that end
 * is a projected system, whose coordinates are no part of it.
 */
export function topocentricEnd(
  invocation: Invocation,
  from: LoadedSide,
  to: LoadedSide,
  inverse: boolean,
): Outcome<TopocentricEnd | null> {
  const text = textOption(invocation, 'topocentricAt');
  if (text === null) return success(null);
  if (textOption(invocation, 'groundAt') !== null) {
    return failure(
      errorProblem('usage-conflict', {
        message: `${OPTION} and --ground-at exclude each other`,
        hint: 'ground coordinates are scaled from a grid; topocentric ones stand on the normal at their origin',
      }),
    );
  }
  const side = inverse ? from : to;
  if (side.kind === 'projected') {
    const option = inverse ? '--from' : '--to';
    return failure(
      errorProblem('system-mismatch', {
        message: `topocentric coordinates stand in a geographic frame, and ${side.label} is a projected system`,
        received: side.name,
        expected: side.geographic.code ?? 'a geographic or geocentric system',
        hint: `give ${option} ${side.geographic.code ?? 'the geographic system'} (${side.geographic.name}), the frame of the origin`,
      }),
    );
  }
  const origin = GEOCENTRIC_ORIGIN.test(text) ? geocentricOrigin(text, side) : geodeticOrigin(text, side);
  if (!origin.ok) return origin;
  const { topocentric, code } = origin.value;
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = geocentricToGeodetic(
    topocentric.origin,
    side.geographic.ellipsoid,
  );
  const about = `${formatFixed(latitudeDeg, 9)}, ${formatFixed(longitudeDeg, 9)}, ${formatFixed(ellipsoidalHeightM, 4)} m above the ellipsoid of ${side.geographic.name}`;
  const way = inverse ? 'from east, north and up about' : 'to east, north and up about';
  return success({
    end: inverse ? 'in' : 'out',
    side: { ...side, kind: 'geocentric', grid: null, topocentric },
    method: {
      id: code,
      name: `topocentric about ${about}${inverse ? ', applied backwards' : ''}`,
      source: { key: 'IOGP-373-7-2', locator: `method ${code.slice(5)}` },
    },
    said: [
      `${way} ${about} (${code})`,
      'up is along the normal at the origin and no height: level ground falls away by 0.08 m at 1 km and 7.8 m at 10 km',
    ],
  });
}

interface Origin {
  readonly topocentric: Topocentric;
  readonly code: 'EPSG:9836' | 'EPSG:9837';
}

function geodeticOrigin(text: string, side: LoadedSide): Outcome<Origin> {
  const place = parsePlaceAndHeight(text, OPTION);
  if (!place.ok) return place;
  return success({ topocentric: topocentricAtGeodetic(place.value, side.geographic.ellipsoid), code: 'EPSG:9837' });
}

function geocentricOrigin(text: string, side: LoadedSide): Outcome<Origin> {
  const [xM, yM, zM, ...more] = text
    .replace(GEOCENTRIC_ORIGIN, '')
    .split(',')
    .map((part) => parseDecimal(part.trim()));
  if (xM == null || yM == null || zM == null || more.length > 0) {
    return failure(
      errorProblem('usage-invalid', {
        message: `${OPTION} ${text} is not xyz:X,Y,Z`,
        received: text,
        hint: `for example ${OPTION} xyz:3652755.306,319574.680,5201547.354: geocentric metres`,
      }),
    );
  }
  const doubt = implausibleGeocentric({ xM, yM, zM }, null);
  if (doubt !== null) return failure({ ...doubt, code: 'usage-invalid', message: `${OPTION}: ${doubt.message}` });
  return success({
    topocentric: topocentricAtGeocentric({ xM, yM, zM }, side.geographic.ellipsoid),
    code: 'EPSG:9836',
  });
}
