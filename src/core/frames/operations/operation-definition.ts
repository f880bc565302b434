import type { SourceRef } from '../../../records/runs/provenance.js';
import type { Shift } from '../shifts/shift-definition.js';
import type { OperationFrame } from './operation-frames.js';

/** A published operation between two frames, as data. */
export interface Operation {
  /** Registry code, `EPSG:n`. */
  readonly code: string;
  /** The same as a number, for ordering. */
  readonly codeNumber: number;
  readonly name: string;
  /** EPSG code of the method as registered. */
  readonly methodCode: number;
  readonly shift: Shift;
  readonly from: OperationFrame;
  readonly to: OperationFrame;
  /** Every built-in operation states one, metres. */
  readonly accuracyM: number;
  readonly reversible: boolean;
  readonly source: SourceRef;
  /** Words of caution from the registry's remarks, in our own; null where none is needed. */
  readonly caution: string | null;
}
