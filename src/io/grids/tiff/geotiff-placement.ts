import type { GeoTIFFImage } from 'geotiff';
import type { GridShape } from '../../../core/geoid/grid-level-from.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';

const GEOGRAPHIC = 2;
const DEGREE = 9102;
const PIXEL_IS_AREA = 1;
const PIXEL_IS_POINT = 2;
const USER_DEFINED = 32767;

/**
 * Where the nodes of one TIFF image stand.
 *
 * Returned: the shape, with the south-west node's position; pixels that are areas have their node
 * in the middle, half a step from the tie point's corner.
 * Problems: `grid-unsupported` where the image is not geographic in degrees, is placed by a matrix
 * or by several tie points, or does not say whether a pixel is a point or an area: that is a doubt
 * of half a cell.
 * Reference: OGC GeoTIFF 1.1, tags ModelTiepoint and ModelPixelScale, keys 1024, 1025, 2054.
 */
export function geotiffPlacement(image: GeoTIFFImage): Outcome<GridShape> {
  const keys = image.getGeoKeys();
  if (keys?.GTModelTypeGeoKey !== GEOGRAPHIC)
    return unsupported('the TIFF is not in geographic coordinates', 'a grid over latitude and longitude');
  const unit: unknown = keys.GeogAngularUnitsGeoKey;
  if (unit !== undefined && unit !== DEGREE) return unsupported('the TIFF is not in degrees', 'angles in degrees');
  const raster: unknown = keys.GTRasterTypeGeoKey;
  if (raster !== PIXEL_IS_AREA && raster !== PIXEL_IS_POINT) {
    return unsupported('the TIFF does not say whether a pixel is a point or an area', 'key GTRasterTypeGeoKey');
  }
  const directory = image.fileDirectory;
  const tie = directory.getValue('ModelTiepoint');
  const scale = directory.getValue('ModelPixelScale');
  if (directory.hasTag('ModelTransformation') || tie?.length !== 6 || scale === undefined || scale.length < 2) {
    return unsupported(
      'the TIFF is not placed by one tie point and a pixel scale',
      'tags ModelTiepoint and ModelPixelScale',
    );
  }
  const [pixel = 0, line = 0, , longitudeDeg = Number.NaN, latitudeDeg = Number.NaN] = Array.from<number>(tie);
  const [longitudeStepDeg = Number.NaN, latitudeStepDeg = Number.NaN] = Array.from<number>(scale);
  const inward = raster === PIXEL_IS_AREA ? 0.5 : 0;
  const rows = image.getHeight();
  return success({
    southDeg: latitudeDeg - (rows - 1 - line + inward) * latitudeStepDeg,
    westDeg: longitudeDeg + (inward - pixel) * longitudeStepDeg,
    latitudeStepDeg,
    longitudeStepDeg,
    rows,
    columns: image.getWidth(),
  });
}

/** The code of the geographic system of an image, `EPSG:n`; null where it is not one of the registry. */
export function geotiffFrame(image: GeoTIFFImage): string | null {
  const code: unknown = image.getGeoKeys()?.GeographicTypeGeoKey;
  return typeof code === 'number' && code > 0 && code < USER_DEFINED ? `EPSG:${code}` : null;
}

function unsupported(message: string, expected: string): Outcome<never> {
  return failure({ code: 'grid-unsupported', severity: 'error', message, expected });
}
