import { parseAngle } from '../../core/numeric/text/angle-text.js';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { largestOf } from '../../core/numeric/extremes.js';
import { geodeticGap, placesApart, unsaidInPlanM } from '../../core/ellipsoid/one-place.js';
import { WGS84 } from '../../core/ellipsoid/ellipsoid.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** JSON drops the zeros at the end of a number, so a short one is taken to be written to this many decimals of a degree. */
const LEAST_DECIMALS_DEG = 7;
const LEAST_DECIMALS_M = 3;
/** What a geometry without a height is compared at: it was written with none, and its rounding is that of 0. */
const NO_HEIGHT_M = 0;

/**
 * Whether the position a feature repeats in its properties is that of its geometry, which is the
 * position there is.
 *
 * Given: the coordinates; the texts of the properties, empty where absent. Returned: position-mismatch
 * with the distance where they differ by more than their rounding; null where they agree or where
 * there is nothing to compare.
 */
export function geometryProblem(
  coordinates: readonly number[],
  properties: { readonly latitude: string; readonly longitude: string; readonly height: string },
  where: { readonly source: string; readonly path: string },
): Problem | null {
  const [longitudeDeg = 0, latitudeDeg = 0, heightM] = coordinates;
  const latitude = angleOf(properties.latitude, 'latitude');
  const longitude = angleOf(properties.longitude, 'longitude');
  const height = parseDecimal(properties.height);
  const place = { latitudeDeg, longitudeDeg, ellipsoidalHeightM: heightM ?? NO_HEIGHT_M };
  const stated = {
    latitudeDeg: latitude ?? latitudeDeg,
    longitudeDeg: longitude ?? longitudeDeg,
    ellipsoidalHeightM: heightM === undefined || height === null ? place.ellipsoidalHeightM : height,
  };
  const angles = [String(latitudeDeg), String(longitudeDeg)];
  const texts = [properties.latitude, properties.longitude].filter((text) => text !== '');
  const words = placesApart({
    // Section 4: the coordinates are on the ellipsoid of WGS 84.
    ...geodeticGap(place, stated, WGS84),
    planUnsaidM: unsaidInPlanM(0, rounding(angles, LEAST_DECIMALS_DEG) + rounding(texts, LEAST_DECIMALS_DEG)),
    upUnsaidM:
      rounding([String(place.ellipsoidalHeightM)], LEAST_DECIMALS_M) + rounding([properties.height], LEAST_DECIMALS_M),
  });
  if (words === null) return null;
  return errorProblem('position-mismatch', {
    message: `the geometry and the position in the properties are ${words}`,
    where: { source: where.source, path: where.path },
    received: coordinates.join(', '),
    hint: 'the geometry is the position of a feature: put the properties right, or rename them',
  });
}

/** Half a unit of the last decimal of the finer of the texts, which a writer gives as many decimals. */
function rounding(texts: readonly string[], least: number): number {
  const decimals = texts.map((text) => /[.,](\d+)/u.exec(text)?.[1]?.length ?? 0);
  return 0.5 * 10 ** -largestOf(decimals, least);
}

function angleOf(text: string, axis: 'latitude' | 'longitude'): number | null {
  if (text === '') return null;
  const parsed = parseAngle(text, axis);
  return parsed.ok ? parsed.value : null;
}
