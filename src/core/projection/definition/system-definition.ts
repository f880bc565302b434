/** What kind of coordinate system a definition describes. */
export type SystemKind = 'projected' | 'geographic' | 'geocentric' | 'other';

/** The box a system is meant for. `westDeg` greater than `eastDeg` means it crosses the 180th meridian. */
export interface AreaOfUse {
  readonly southDeg: number;
  readonly westDeg: number;
  readonly northDeg: number;
  readonly eastDeg: number;
  readonly description: string;
}

/**
 * A coordinate system as written down, before anything is computed with it: an entry of the
 * registry, or a PROJ definition string given by the user.
 */
export interface SystemDefinition {
  /** Such as `EPSG:2049`; null for a PROJ string. */
  readonly code: string | null;
  /** The registry's name, or the PROJ string itself. */
  readonly name: string;
  readonly kind: SystemKind;
  readonly proj4: string | null;
  readonly wkt: string | null;
  /** The registry's name of the unit of its axes; null when it is not stated. */
  readonly unitName: string | null;
  readonly areaOfUse: AreaOfUse | null;
  /** Accuracy the registry states for the tie of the system to others, metres; null when unstated. */
  readonly accuracyM: number | null;
}
