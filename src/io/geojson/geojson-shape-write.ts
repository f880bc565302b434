import { formatFixed } from '../../core/numeric/text/format-fixed.js';

/** A place of a geometry, degrees. */
export interface ShapePlace {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}

/** A geometry of one feature: areas are outer rings, closed and counter-clockwise. */
export type ShapeGeometry =
  | { readonly kind: 'point'; readonly place: ShapePlace; readonly ellipsoidalHeightM: number | null }
  | { readonly kind: 'lines'; readonly lines: readonly (readonly ShapePlace[])[] }
  | { readonly kind: 'areas'; readonly rings: readonly (readonly ShapePlace[])[] };

/** Property values; a number is written with the decimals beside it. */
export type ShapeProperty = string | null | { readonly value: number | null; readonly decimals: number };

/** Writes a FeatureCollection of any geometries piece by piece. */
export interface GeojsonShapeWriter {
  readonly begin: () => string;
  readonly feature: (geometry: ShapeGeometry, properties: Readonly<Record<string, ShapeProperty>>) => string;
  readonly end: () => string;
}

/**
 * A writer of points, lines and areas as RFC 7946 GeoJSON: longitude, latitude with 9 decimals, one feature a line, no
 * `crs` member. One line or ring becomes a LineString or Polygon, more a MultiLineString or MultiPolygon; none a feature without a
 * place (section 3.2). Source: RFC 7946 sections 3.1 and 11.2.
 */
export function createGeojsonShapeWriter(): GeojsonShapeWriter {
  let isFirst = true;
  return {
    begin: () => '{"type":"FeatureCollection","features":[',
    feature(geometry, properties) {
      const members = Object.entries(properties).map(
        ([name, value]) => `${JSON.stringify(name)}:${propertyText(value)}`,
      );
      const text = `${isFirst ? '\n' : ',\n'}{"type":"Feature","geometry":${geometryText(geometry)},"properties":{${members.join(',')}}}`;
      isFirst = false;
      return text;
    },
    end: () => (isFirst ? ']}\n' : '\n]}\n'),
  };
}

function geometryText(geometry: ShapeGeometry): string {
  switch (geometry.kind) {
    case 'point': {
      const height = geometry.ellipsoidalHeightM === null ? '' : `,${formatFixed(geometry.ellipsoidalHeightM, 4)}`;
      return `{"type":"Point","coordinates":${position(geometry.place).slice(0, -1)}${height}]}`;
    }
    case 'lines': {
      const [first, ...others] = geometry.lines;
      if (first === undefined) return 'null';
      if (others.length === 0) return `{"type":"LineString","coordinates":${line(first)}}`;
      return `{"type":"MultiLineString","coordinates":[${geometry.lines.map(line).join(',')}]}`;
    }
    case 'areas': {
      const [first, ...others] = geometry.rings;
      if (first === undefined) return 'null';
      if (others.length === 0) return `{"type":"Polygon","coordinates":[${line(first)}]}`;
      return `{"type":"MultiPolygon","coordinates":[${geometry.rings.map((ring) => `[${line(ring)}]`).join(',')}]}`;
    }
  }
}

function line(places: readonly ShapePlace[]): string {
  return `[${places.map(position).join(',')}]`;
}

function position({ latitudeDeg, longitudeDeg }: ShapePlace): string {
  return `[${formatFixed(longitudeDeg, 9)},${formatFixed(latitudeDeg, 9)}]`;
}

function propertyText(value: ShapeProperty): string {
  if (value === null) return 'null';
  if (typeof value === 'string') return JSON.stringify(value);
  return value.value === null ? 'null' : formatFixed(value.value, value.decimals);
}
