import { InternalError } from '../../../records/internal-error.js';
import type { Operation } from './operation-definition.js';
import { operationFrameNamed } from './operation-frames.js';
import type { OperationFrame } from './operation-frames.js';
import { NO_SHIFT_PARAMETERS } from '../shifts/shift-definition.js';
import type { Shift, ShiftArea, ShiftMethod } from '../shifts/shift-definition.js';

/** A row of the table of operations that do not change with time. */
export interface StaticRow {
  readonly code: number;
  readonly name: string;
  readonly from: string;
  readonly to: string;
  readonly methodCode: number;
  readonly method: ShiftMethod;
  readonly heights: 'transformed' | 'kept';
  readonly accuracyM: number;
  readonly area: ShiftArea;
  readonly txM: number;
  readonly tyM: number;
  readonly tzM: number;
  readonly rxArcsec?: number;
  readonly ryArcsec?: number;
  readonly rzArcsec?: number;
  readonly dsPpm?: number;
  readonly caution: string | null;
}

/** A row of a time-dependent operation, in the units it is published in; a term not given is 0. */
export interface TimeDependentRow {
  readonly code: number;
  readonly from: string;
  readonly to: string;
  /** Number that the registry gives the operation among those of the pair. */
  readonly version: number;
  readonly epochYear: number;
  readonly accuracyM: number;
  readonly txMm?: number;
  readonly tyMm?: number;
  readonly tzMm?: number;
  readonly rxMas?: number;
  readonly ryMas?: number;
  readonly rzMas?: number;
  readonly dsPpb?: number;
  readonly txMmPerYear?: number;
  readonly tyMmPerYear?: number;
  readonly tzMmPerYear?: number;
  readonly rxMasPerYear?: number;
  readonly ryMasPerYear?: number;
  readonly rzMasPerYear?: number;
  readonly dsPpbPerYear?: number;
}

const WORLD: ShiftArea = { southDeg: -90, westDeg: -180, northDeg: 90, eastDeg: 180, description: 'world' };

/** The operation of a row that does not change with time. Throws InternalError for a slip in the table. */
export function operationFromStaticRow(row: StaticRow): Operation {
  return {
    ...common(row.code, row.name, row.methodCode, row.from, row.to, row.accuracyM, row.caution),
    shift: {
      ...shiftShell(row.code, row.name, row.from, row.to, row.accuracyM, row.area),
      method: row.method,
      heights: row.heights,
      parameters: {
        ...NO_SHIFT_PARAMETERS,
        txM: row.txM,
        tyM: row.tyM,
        tzM: row.tzM,
        // A translation turns and scales nothing: its row leaves these out.
        rxArcsec: row.rxArcsec ?? 0,
        // A translation turns and scales nothing: its row leaves these out.
        ryArcsec: row.ryArcsec ?? 0,
        // A translation turns and scales nothing: its row leaves these out.
        rzArcsec: row.rzArcsec ?? 0,
        // A translation turns and scales nothing: its row leaves these out.
        dsPpm: row.dsPpm ?? 0,
      },
      rates: null,
      referenceEpochYear: null,
    },
  };
}

/**
 * The operation of a time-dependent row, with its published millimetres, milliseconds of arc and
 * parts per billion turned into metres, seconds and parts per million.
 */
export function operationFromTimeDependentRow(
  row: TimeDependentRow,
  methodCode: 1053 | 1056,
  area: ShiftArea | null,
): Operation {
  const name = `${row.from} to ${row.to} (${String(row.version)})`;
  // A rate that the registry leaves out is none.
  const thousandth = (value: number | undefined): number => (value ?? 0) / 1000;
  return {
    ...common(row.code, name, methodCode, row.from, row.to, row.accuracyM, null),
    shift: {
      ...shiftShell(row.code, name, row.from, row.to, row.accuracyM, area ?? WORLD),
      method: methodCode === 1053 ? 'time-dependent-position-vector' : 'time-dependent-coordinate-frame',
      heights: 'transformed',
      parameters: {
        txM: thousandth(row.txMm),
        tyM: thousandth(row.tyMm),
        tzM: thousandth(row.tzMm),
        rxArcsec: thousandth(row.rxMas),
        ryArcsec: thousandth(row.ryMas),
        rzArcsec: thousandth(row.rzMas),
        dsPpm: thousandth(row.dsPpb),
      },
      rates: {
        txMPerYear: thousandth(row.txMmPerYear),
        tyMPerYear: thousandth(row.tyMmPerYear),
        tzMPerYear: thousandth(row.tzMmPerYear),
        rxArcsecPerYear: thousandth(row.rxMasPerYear),
        ryArcsecPerYear: thousandth(row.ryMasPerYear),
        rzArcsecPerYear: thousandth(row.rzMasPerYear),
        dsPpmPerYear: thousandth(row.dsPpbPerYear),
      },
      referenceEpochYear: row.epochYear,
    },
  };
}

function common(
  code: number,
  name: string,
  methodCode: number,
  from: string,
  to: string,
  accuracyM: number,
  caution: string | null,
): Omit<Operation, 'shift'> {
  return {
    code: `EPSG:${String(code)}`,
    codeNumber: code,
    name,
    methodCode,
    from: frameNamed(from),
    to: frameNamed(to),
    accuracyM,
    reversible: true,
    source: { key: 'EPSG-DB', locator: `operation ${String(code)}` },
    caution,
  };
}

function shiftShell(
  code: number,
  name: string,
  from: string,
  to: string,
  accuracyM: number,
  area: ShiftArea,
): Omit<Shift, 'method' | 'heights' | 'parameters' | 'rates' | 'referenceEpochYear'> {
  return {
    code: `EPSG:${String(code)}`,
    name,
    pivot: null,
    rotationMatrix: 'automatic',
    from,
    to,
    accuracyM,
    area,
    source: `EPSG dataset, operation ${String(code)}`,
  };
}

function frameNamed(name: string): OperationFrame {
  const frame = operationFrameNamed(name);
  if (frame === null) throw new InternalError(`the table of operations names the unknown frame ${name}`);
  return frame;
}
