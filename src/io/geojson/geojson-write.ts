import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { InternalError } from '../../records/internal-error.js';
import type { CellKind } from '../tables/columns/cells/cell-text.js';
import { assertDistinct } from '../tables/columns/distinct-columns.js';

/** A property of every feature. Cells are text already: `number` cells become JSON numbers, empty ones null. */
export interface GeojsonProperty {
  readonly name: string;
  /** A list stays text here, semicolons between: properties are flat. */
  readonly kind: CellKind;
}

/** One point to be written. */
export interface GeojsonPoint {
  /** Null, with the longitude: the feature has no place (RFC 7946 section 3.2). */
  readonly latitudeDeg: number | null;
  /** −180 to 180. */
  readonly longitudeDeg: number | null;
  /** Null: the position is written without a height. */
  readonly ellipsoidalHeightM: number | null;
  /** One cell for each property, in order. */
  readonly cells: readonly string[];
}

/** Writes a FeatureCollection piece by piece: `begin`, `points` any number of times, `end`. */
export interface GeojsonWriter {
  readonly begin: () => string;
  readonly points: (points: readonly GeojsonPoint[]) => string;
  readonly end: () => string;
}

const JSON_NUMBER = /^-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?$/;

/**
 * A writer of points as RFC 7946 GeoJSON: longitude, latitude (9 decimals, about 0.1 mm) and ellipsoidal height
 * (4 decimals), one feature a line, properties in the order given, no `crs` member. Without points the collection is
 * empty and still valid. Source: RFC 7946 sections 3.1.1, 3.1.2, 3.2, 3.3, 4 and 11.2.
 * The inverse is `readGeojsonTable`.
 */
export function createGeojsonWriter(properties: readonly GeojsonProperty[]): GeojsonWriter {
  assertDistinct(properties.map(({ name }) => name));
  const keys = properties.map((property) => `${JSON.stringify(property.name)}:`);
  let isFirst = true;

  function feature(point: GeojsonPoint): string {
    const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = point;
    const height = ellipsoidalHeightM === null ? '' : `,${formatFixed(ellipsoidalHeightM, 4)}`;
    const values = properties.map(
      // On the way of a row: not asked for each cell.
      (property, index) => (keys[index] ?? '') + jsonValue(property, point.cells[index] ?? ''),
    );
    const geometry =
      latitudeDeg === null || longitudeDeg === null
        ? 'null'
        : `{"type":"Point","coordinates":[${formatFixed(longitudeDeg, 9)},${formatFixed(latitudeDeg, 9)}${height}]}`;
    return `{"type":"Feature","geometry":${geometry},"properties":{${values.join(',')}}}`;
  }

  return {
    begin: () => '{"type":"FeatureCollection","features":[',
    points(points) {
      let text = '';
      for (const point of points) {
        text += (isFirst ? '\n' : ',\n') + feature(point);
        isFirst = false;
      }
      return text;
    },
    end: () => (isFirst ? ']}\n' : '\n]}\n'),
  };
}

function jsonValue(property: GeojsonProperty, cell: string): string {
  if (cell === '') return 'null';
  if (property.kind !== 'number') return JSON.stringify(cell);
  if (!JSON_NUMBER.test(cell)) throw new InternalError(`property ${property.name} is not a number: ${cell}`);
  return cell;
}
