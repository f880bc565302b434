import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { ShapeVertex } from '../../records/reports/parts/plan-shape.js';

/** Reads the coordinates of one geometry; what is wrong is added to the list of problems, once for each place. */
export interface ShapeReader {
  readonly line: (coordinates: unknown, path?: string) => readonly ShapeVertex[];
  readonly lines: (coordinates: unknown, path?: string) => readonly (readonly ShapeVertex[])[];
  readonly rings: (coordinates: unknown, path?: string) => readonly (readonly ShapeVertex[])[];
  readonly polygons: (coordinates: unknown) => readonly (readonly (readonly ShapeVertex[])[])[];
}

/**
 * A reader of the positions of one line or area.
 * Problems: geojson-structure for what is no array of positions, for none at all, and for positions with and without a
 * height in one geometry; latitude-out-of-range, longitude-out-of-range; value-out-of-range for a height.
 * Source: RFC 7946 section 3.1.1.
 */
export function createShapeReader(source: string, root: string, problems: Problem[]): ShapeReader {
  let dimensions: number | null = null;
  let saidMixed = false;

  function structure(path: string, message: string, hint = 'see RFC 7946 section 3.1'): void {
    problems.push(errorProblem('geojson-structure', { message, where: { source, path }, hint }));
  }

  function list(value: unknown, path: string, what: string): readonly unknown[] {
    if (!Array.isArray(value)) structure(path, `is not a list of ${what}`);
    else if (value.length === 0) structure(path, `is empty: there are no ${what}`, 'draw it, or leave the feature out');
    else return value as readonly unknown[];
    return [];
  }

  function vertex(value: unknown, path: string): ShapeVertex | null {
    if (
      !Array.isArray(value) ||
      value.length < 2 ||
      value.length > 3 ||
      !value.every((number) => typeof number === 'number')
    ) {
      structure(path, 'is not longitude, latitude and height as two or three numbers');
      return null;
    }
    const [longitudeDeg = 0, latitudeDeg = 0, heightM] = value as readonly number[];
    dimensions ??= value.length;
    if (value.length !== dimensions && !saidMixed) {
      saidMixed = true;
      structure(
        path,
        `has ${String(value.length)} numbers and the positions before it ${String(dimensions)}: a height is stated for a part of the shape only`,
        'give every position a height, or none',
      );
    }
    if (!(latitudeDeg >= -90 && latitudeDeg <= 90))
      problems.push(
        errorProblem('latitude-out-of-range', {
          message: `${String(latitudeDeg)} is outside -90..90`,
          where: { source, path },
          received: String(latitudeDeg),
          hint: 'GeoJSON positions are longitude first, then latitude',
        }),
      );
    if (!(longitudeDeg >= -180 && longitudeDeg <= 360))
      problems.push(
        errorProblem('longitude-out-of-range', {
          message: `${String(longitudeDeg)} is outside -180..360`,
          where: { source, path },
          received: String(longitudeDeg),
        }),
      );
    if (heightM !== undefined && !(heightM >= -12_000 && heightM <= 100_000))
      problems.push(
        errorProblem('value-out-of-range', {
          message: `the height ${String(heightM)} is outside -12000..100000`,
          where: { source, path },
          received: String(heightM),
        }),
      );
    return {
      latitudeDeg,
      longitudeDeg: longitudeDeg > 180 ? longitudeDeg - 360 : longitudeDeg,
      ellipsoidalHeightM: heightM ?? null,
    };
  }

  const at = (path: string, index: number): string => `${path}[${String(index)}]`;
  const line = (coordinates: unknown, path = root): readonly ShapeVertex[] =>
    list(coordinates, path, 'positions').flatMap((value, index) => vertex(value, at(path, index)) ?? []);
  const pieces = (coordinates: unknown, path: string, what: string): readonly (readonly ShapeVertex[])[] =>
    list(coordinates, path, what).map((value, index) => line(value, at(path, index)));
  const rings = (coordinates: unknown, path = root): readonly (readonly ShapeVertex[])[] =>
    pieces(coordinates, path, 'rings');
  return {
    line,
    lines: (coordinates, path = root) => pieces(coordinates, path, 'lines'),
    rings,
    polygons: (coordinates) => list(coordinates, root, 'polygons').map((value, index) => rings(value, at(root, index))),
  };
}
