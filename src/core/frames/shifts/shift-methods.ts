import { InternalError } from '../../../records/internal-error.js';
import type { RotationConvention, ShiftMethod } from './shift-definition.js';

/** What a method needs and what the registry calls it. */
export interface ShiftMethodEntry {
  readonly method: ShiftMethod;
  /** Name as people write it in a shift file. */
  readonly name: string;
  /** EPSG method code on geocentric coordinates. */
  readonly geocentricCode: number;
  /** EPSG method code between geographic 3D systems. */
  readonly geographic3dCode: number;
  /** EPSG method code between geographic 2D systems. */
  readonly geographic2dCode: number;
  /** Null where the method has no rotations. */
  readonly convention: RotationConvention | null;
  readonly timeDependent: boolean;
  readonly pivoted: boolean;
}

/**
 * The methods of a shift, with their EPSG codes for the three domains. The domains share one
 * formula on geocentric coordinates; they differ in what is converted before and after.
 *
 * Formula of all of them, with X the source and X′ the target position, T the translation,
 * P the pivot (0 but for Molodensky-Badekas), R the rotation matrix and s the scale difference:
 * X′ = T + P + (1 + s) R (X − P); time-dependent parameters are p(t) = p₀ + ṗ (t − t₀).
 *
 * Reference: IOGP-373-7-2, sections on geocentric translations, Helmert, Molodensky-Badekas and
 * time-dependent transformations.
 */
export const SHIFT_METHODS: readonly ShiftMethodEntry[] = [
  {
    method: 'geocentric-translation',
    name: 'geocentric translations',
    geocentricCode: 1031,
    geographic3dCode: 1035,
    geographic2dCode: 9603,
    convention: null,
    timeDependent: false,
    pivoted: false,
  },
  {
    method: 'position-vector',
    name: 'position vector transformation',
    geocentricCode: 1033,
    geographic3dCode: 1037,
    geographic2dCode: 9606,
    convention: 'position-vector',
    timeDependent: false,
    pivoted: false,
  },
  {
    method: 'coordinate-frame',
    name: 'coordinate frame rotation',
    geocentricCode: 1032,
    geographic3dCode: 1038,
    geographic2dCode: 9607,
    convention: 'coordinate-frame',
    timeDependent: false,
    pivoted: false,
  },
  {
    method: 'time-dependent-position-vector',
    name: 'time-dependent position vector',
    geocentricCode: 1053,
    geographic3dCode: 1055,
    geographic2dCode: 1054,
    convention: 'position-vector',
    timeDependent: true,
    pivoted: false,
  },
  {
    method: 'time-dependent-coordinate-frame',
    name: 'time-dependent coordinate frame',
    geocentricCode: 1056,
    geographic3dCode: 1058,
    geographic2dCode: 1057,
    convention: 'coordinate-frame',
    timeDependent: true,
    pivoted: false,
  },
  {
    method: 'molodensky-badekas-position-vector',
    name: 'molodensky-badekas (position vector)',
    geocentricCode: 1061,
    geographic3dCode: 1062,
    geographic2dCode: 1063,
    convention: 'position-vector',
    timeDependent: false,
    pivoted: true,
  },
  {
    method: 'molodensky-badekas-coordinate-frame',
    name: 'molodensky-badekas (coordinate frame)',
    geocentricCode: 1034,
    geographic3dCode: 1039,
    geographic2dCode: 9636,
    convention: 'coordinate-frame',
    timeDependent: false,
    pivoted: true,
  },
];

/** The entry of a method. Given: method. Returned: its entry. Throws InternalError for none. */
export function shiftMethodEntry(method: ShiftMethod): ShiftMethodEntry {
  for (const entry of SHIFT_METHODS) if (entry.method === method) return entry;
  throw new InternalError(`the shift method ${method} has no entry`);
}
