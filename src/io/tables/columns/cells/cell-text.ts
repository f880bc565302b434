import { formatDms } from '../../../../core/numeric/text/angle-text.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { formatUtc } from '../../../../core/numeric/text/utc-text.js';
import { InternalError } from '../../../../records/internal-error.js';
import type { Column, ColumnKind, ColumnValue, DescribedColumn } from '../column.js';
import { AS_GIVEN } from './decimals.js';

/** What a writer needs of a column. */
export type WrittenColumn<Of> = Pick<Column<never, Of>, 'name' | 'kind' | 'decimals' | 'get'>;

/** How angles are written: decimal degrees, or degrees, minutes and seconds. */
export type AngleForm = 'degrees' | 'dms';

/** Decimals of a second in positions: 0.00001″ is 0.3 mm. */
const PLACE_SECONDS = 5;
/** Decimals of a second in directions: 0.01″ is 3 mm at 60 km, 0.001″ the width of a hair. */
const DIRECTION_SECONDS = 3;

/** A column as formats see it: whether its cells are numbers there, or text. */
export interface CellColumn {
  readonly name: string;
  readonly kind: CellKind;
}

/** `list`: codes with semicolons between, which are a list in JSON. */
export type CellKind = 'number' | 'text' | 'list';

/** Name and kind of cells of the columns, for CSV, GeoJSON and JSON. Angles in DMS are text. */
export function cellColumns<Of>(
  columns: readonly WrittenColumn<Of>[],
  form: AngleForm = 'degrees',
): readonly CellColumn[] {
  return columns.map(({ name, kind }) => ({
    name,
    kind: isNumber(kind, form) ? 'number' : kind === 'codes' ? 'list' : 'text',
  }));
}

function isNumber(kind: ColumnKind, form: AngleForm): boolean {
  switch (kind) {
    case 'number':
    case 'whole':
      return true;
    case 'latitude':
    case 'longitude':
    case 'direction':
    case 'angle':
      return form === 'degrees';
    case 'id':
    case 'text':
    case 'word':
    case 'codes':
    case 'time':
    case 'yes-no':
      return false;
  }
}

/** The places of columns whose cells may hold anything, and may need quotes; the others are numbers and our own words. */
export function freeColumns(columns: readonly Pick<DescribedColumn, 'kind'>[]): readonly number[] {
  return columns.flatMap(({ kind }, index) => (['id', 'text', 'codes'].includes(kind) ? [index] : []));
}

/** Makes the cells of rows under the columns, as text; what is not known is an empty cell. */
export function createCellTexts<Of>(
  columns: readonly WrittenColumn<Of>[],
  form: AngleForm = 'degrees',
): (of: Of) => string[] {
  const texts = columns.map(({ name, kind, decimals, get }) => {
    if (get === null) throw new InternalError(`the column ${name} is not written`);
    return cellText(get, kind, decimals, form);
  });
  return (of) => {
    const cells: string[] = [];
    for (const text of texts) cells.push(text(of));
    return cells;
  };
}

/** Takes the values of a column of one kind and writes them: in one function, since a million rows call it once a cell. */
function cellText<Of>(
  get: (of: Of) => ColumnValue,
  kind: ColumnKind,
  decimals: number,
  form: AngleForm,
): (of: Of) => string {
  switch (kind) {
    case 'id':
    case 'text':
    case 'word':
      // What is not known is an empty cell.
      return (of) => (get(of) as string | null) ?? '';
    case 'codes':
      return (of) => {
        const codes = get(of) as readonly string[] | null;
        return codes === null || codes.length === 0 ? '' : codes.join(';');
      };
    case 'whole':
      return (of) => {
        const value = get(of);
        return value === null ? '' : String(value);
      };
    case 'time':
      return ofNumber(get, formatUtc);
    case 'yes-no':
      return (of) => {
        const value = get(of);
        return value === null ? '' : value === true ? 'yes' : 'no';
      };
    case 'number':
      return decimals === AS_GIVEN ? ofNumber(get, String) : fixedText(get, decimals);
    case 'latitude':
    case 'longitude':
      return form === 'dms'
        ? ofNumber(get, (value) => formatDms(value, kind, PLACE_SECONDS))
        : fixedText(get, decimals);
    case 'angle':
    case 'direction': {
      const write = (value: number): string =>
        form === 'dms' ? formatDms(value, 'any', DIRECTION_SECONDS) : formatFixed(value, decimals);
      // A direction as written lies below 360.
      return ofNumber(get, (value) => {
        const text = write(value);
        return kind === 'direction' && text.startsWith('360') ? write(0) : text;
      });
    }
  }
}

function fixedText<Of>(get: (of: Of) => ColumnValue, decimals: number): (of: Of) => string {
  return (of) => {
    const value = get(of);
    return value === null ? '' : formatFixed(value as number, decimals);
  };
}

function ofNumber<Of>(get: (of: Of) => ColumnValue, write: (value: number) => string): (of: Of) => string {
  return (of) => {
    const value = get(of);
    return value === null ? '' : write(value as number);
  };
}
