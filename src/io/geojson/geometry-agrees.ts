import { parseAngle } from '../../core/numeric/text/angle-text.js';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { largestOf } from '../../core/numeric/extremes.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** Geometry and properties may differ by this much beside their rounding, metres. */
const AGREE_M = 0.005;
/** JSON drops the zeros at the end of a number, so a short one is taken to be written to this many decimals of a degree. */
const LEAST_DECIMALS_DEG = 7;
const LEAST_DECIMALS_M = 3;
/** Metres in a degree of latitude, near enough. */
const DEGREE_M = 111_320;

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
  const north = latitude === null ? 0 : latitude - latitudeDeg;
  const east = longitude === null ? 0 : ((((longitude - longitudeDeg) % 360) + 540) % 360) - 180;
  const apartM = Math.hypot(north, east * Math.cos((latitudeDeg * Math.PI) / 180)) * DEGREE_M;
  const angles = [String(latitudeDeg), String(longitudeDeg)];
  const texts = [properties.latitude, properties.longitude].filter((text) => text !== '');
  const unsaidM = Math.SQRT2 * DEGREE_M * (rounding(angles, LEAST_DECIMALS_DEG) + rounding(texts, LEAST_DECIMALS_DEG));
  const upM = height === null || heightM === undefined ? 0 : Math.abs(height - heightM);
  const unsaidUpM =
    // A geometry without a height was written with none: its rounding is that of 0.
    rounding([String(heightM ?? 0)], LEAST_DECIMALS_M) + rounding([properties.height], LEAST_DECIMALS_M);
  const isPlaceOff = apartM > AGREE_M + unsaidM;
  if (!isPlaceOff && upM <= AGREE_M + unsaidUpM) return null;
  const words = isPlaceOff ? `${formatFixed(apartM, 3)} m apart` : `${formatFixed(upM, 3)} m apart in height`;
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
