import type { Outcome } from '../../../records/outcome.js';
import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import type { GridPair } from '../../grid/systems/grid-system.js';

/** What a method does to a point, its parameters put in; it undoes itself. Everything is written into `out`. */
export type MethodAction =
  /** From the pair of one grid to that of another, in their own axes and units. */
  | {
      readonly on: 'plane';
      readonly forward: (first: number, second: number, out: GridPair) => void;
      readonly inverse: (first: number, second: number, out: GridPair) => void;
    }
  /** On orthometric heights at a place of the target, degrees: metres added to a source height, taken off a target one. */
  | {
      readonly on: 'orthometric-height';
      readonly addedM: (ellipsoid: Ellipsoid) => (latitudeDeg: number, longitudeDeg: number) => number;
    };

/** A parameter of a method: a number of a shift file. */
export interface MethodKey {
  readonly meaning: string;
  /** Limits of the number; where there are none, ±10⁹. */
  readonly minimum?: number;
  readonly maximum?: number;
}

/**
 * A method with parameters that a shift file may give, beside those between frames in space (`../shifts`): how the file
 * names it, what it needs, and what it does. Reader, schema, documentation and `transform` know it from here.
 */
export interface FiledMethod {
  /** As people write it, lower case with single blanks. */
  readonly name: string;
  /** Registry code of the method, `EPSG:9621`. */
  readonly code: `EPSG:${number}`;
  readonly keys: Readonly<Record<string, MethodKey>>;
  /** Given: a number for every key. Problems: config-invalid-value for parameters that make no transformation. */
  readonly make: (parameters: Readonly<Record<string, number>>) => Outcome<MethodAction>;
}

/** A method whose parameters are typed by its keys. */
export function filedMethod<K extends string>(
  method: Omit<FiledMethod, 'keys' | 'make'> & {
    readonly keys: Readonly<Record<K, MethodKey>>;
    readonly make: (parameters: Readonly<Record<K, number>>) => Outcome<MethodAction>;
  },
): FiledMethod {
  return method;
}
