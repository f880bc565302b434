import type { GridAxis, GridParameter, GridSystem } from './grid-system.js';
import type { AreaOfUse } from '../../projection/definition/system-definition.js';

/** A grid in words and figures, for people and for JSON. */
export interface GridDescription {
  readonly code: string | null;
  readonly name: string;
  readonly method: string;
  readonly conformal: boolean;
  readonly parameters: readonly GridParameter[];
  readonly baseCode: string | null;
  readonly baseName: string;
  readonly ellipsoidName: string;
  readonly semiMajorAxisM: number;
  /** Null for a sphere. */
  readonly inverseFlattening: number | null;
  readonly axes: readonly [GridAxis, GridAxis];
  readonly southOrientated: boolean;
  readonly unitName: string;
  readonly metresPerUnit: number;
  readonly areaOfUse: AreaOfUse | null;
  /** Shift to WGS 84 written in the definition; not applied. */
  readonly datumShift: readonly number[] | null;
  readonly accuracyM: number | null;
}

/** The definition, axes and area of use of a grid, as plain data. */
export function describeGridSystem(system: GridSystem): GridDescription {
  const { ellipsoid } = system.projection;
  return {
    code: system.code,
    name: system.name,
    method: system.projection.method,
    conformal: system.projection.conformal,
    parameters: system.projection.parameters,
    baseCode: system.base.code,
    baseName: system.base.name,
    ellipsoidName: system.base.ellipsoid.name,
    semiMajorAxisM: ellipsoid.semiMajorAxisM,
    inverseFlattening: ellipsoid.flattening === 0 ? null : 1 / ellipsoid.flattening,
    axes: system.axes,
    southOrientated: system.southOrientated,
    unitName: system.axes[0].unitName,
    metresPerUnit: system.axes[0].metresPerUnit,
    areaOfUse: system.areaOfUse,
    datumShift: system.base.datumShift,
    accuracyM: system.definition.accuracyM,
  };
}
