import type { Draft } from '../../../records/draft.js';
import { DECIMALS } from './cells/decimals.js';

/** Values of cells as they are read, by kind. Words have the values of their own table. */
interface ReadValues {
  /** An identifier: never a number, without control characters. */
  readonly id: string;
  readonly text: string;
  readonly number: number;
  readonly whole: number;
  /** Degrees; decimal or degrees, minutes, seconds. A latitude is read beside the table's longitude. */
  readonly latitude: number;
  readonly longitude: number;
  /** A direction in degrees, −360 to 360; written as 0 to 360. */
  readonly direction: number;
  /** Any other angle in degrees. */
  readonly angle: number;
  /** Milliseconds since 1970-01-01T00:00:00Z. */
  readonly time: number;
  /** `yes` or `no`, in JSON true or false; read `true`, `1`, `false` and `0` as well. */
  readonly 'yes-no': boolean;
  /** Codes with semicolons between. */
  readonly codes: string;
}

export type ColumnKind = keyof ReadValues | 'word';

/** What a value to be written may be. */
export type ColumnValue = string | number | boolean | readonly string[] | null;

/** Units that the end of a column's name says. */
export type ColumnUnit = 'm' | 'm2' | 'deg' | 'arcsec' | 's';

/** Decimals that a unit is written with, where its column does not say others. */
const DECIMALS_OF: Readonly<Record<ColumnUnit, number>> = {
  m: DECIMALS.metres,
  m2: 3,
  deg: DECIMALS.degrees,
  arcsec: 3,
  s: 1,
};

/** Smallest and largest value that is read. */
export type ColumnRange = readonly [number, number];

/** What is said of a column beside where its values come from and go to. */
interface Said {
  readonly name: string;
  /** What the column holds, in a few words; for help and pages. */
  readonly describe: string;
  /** What its cells may be, in words; absent: made of kind, range and words. */
  readonly holds?: string;
  /** The column must be there and its cells filled. */
  readonly isNeeded?: boolean;
  /** Its cells must be filled where the column is there and counts. */
  readonly isFilled?: boolean;
  readonly unit?: ColumnUnit;
  /** Of a number; `AS_GIVEN`: as many as it has. */
  readonly decimals?: number;
  readonly range?: ColumnRange;
  /** Comes out again beside what is made of the row, like a column that is not known. */
  readonly isCarried?: boolean;
  /** Belongs to the place: a row that is moved leaves it behind. */
  readonly isOfPlace?: boolean;
  /** A figure of trust, in plan or in height or of both: it does not hold where that was changed. */
  readonly trust?: 'plan' | 'height' | 'both';
  /** Files have words of their own for it, which a session may translate. */
  readonly isTranslated?: boolean;
  /** Read only where the settings name it: a header of this name says too little, and passes through. */
  readonly isMappedOnly?: boolean;
}

interface PlainSpec<Row, Of, Kind extends keyof ReadValues> extends Said {
  readonly kind: Kind;
  readonly put?: (row: Draft<Row>, value: ReadValues[Kind]) => void;
  readonly get?: (of: Of) => (Kind extends 'codes' ? readonly string[] : ReadValues[Kind]) | null;
}

interface WordSpec<Row, Of, Word> extends Said {
  readonly kind: 'word';
  /** Words that are read, with their values. */
  readonly words?: ReadonlyMap<string, Word>;
  readonly put?: (row: Draft<Row>, value: Word) => void;
  readonly get?: (of: Of) => string | null;
}

/** What `column` is given. */
export type ColumnSpec<Row, Of, Word> =
  { readonly [Kind in keyof ReadValues]: PlainSpec<Row, Of, Kind> }[keyof ReadValues] | WordSpec<Row, Of, Word>;

/** A column as pages and help see it. */
export interface DescribedColumn extends Said {
  readonly kind: ColumnKind;
  readonly isNeeded: boolean;
  readonly isFilled: boolean;
  readonly decimals: number;
  readonly words?: ReadonlyMap<string, unknown>;
}

/**
 * A column of a table: everything that is known of it, once. `Row` is the record that a row becomes when it is read, `Of`
 * what a row is written of; a column may be read, written or both.
 */
export interface Column<Row = never, Of = never> extends DescribedColumn {
  /** Lays the value of a filled cell into the record; null: the cell is not kept. */
  readonly put: ((row: Draft<Row>, value: never) => void) | null;
  /** Takes the value to be written, null where it is not known; null: the column is not written. */
  readonly get: ((of: Of) => ColumnValue) | null;
}

/**
 * Describes a column. Readers, writers, the rules of what passes through, help and pages are made of it.
 * Given: name, kind and what it holds; where it is read, where a value goes (`put`) and its range; where it is written,
 * where the value comes from (`get`) and its decimals, which the unit gives where they are not named.
 */
export function column<Row, Of, Word>(spec: ColumnSpec<Row, Of, Word>): Column<Row, Of> {
  return {
    ...spec,
    isNeeded: spec.isNeeded ?? false,
    isFilled: spec.isFilled ?? spec.isNeeded ?? false,
    decimals: spec.decimals ?? (spec.unit === undefined ? 0 : DECIMALS_OF[spec.unit]),
    put: spec.put ?? null,
    get: spec.get ?? null,
  };
}
