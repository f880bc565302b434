/** A corner of a line or area. */
export interface ShapeVertex {
  readonly latitudeDeg: number;
  /** −180 to 180. */
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number | null;
}

/** A line or an area to be served along its whole length or extent, as drawn in a GeoJSON file. */
export interface PlanShape {
  readonly id: string;
  readonly kind: 'line' | 'area';
  /** The pieces of a line. */
  readonly lines: readonly (readonly ShapeVertex[])[];
  /** The polygons of an area, each its outer ring and any holes. */
  readonly polygons: readonly (readonly (readonly ShapeVertex[])[])[];
  /** 95 %, metres; null: that of the run. */
  readonly toleranceHorizontalM: number | null;
  readonly toleranceVerticalM: number | null;
  /** Where it stands, for messages. */
  readonly source: string;
  readonly path: string;
}
