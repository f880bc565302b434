import { formatDms } from '../../../core/numeric/text/angle-text.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { formatUtc } from '../../../core/numeric/text/utc-text.js';
import { InternalError } from '../../../records/internal-error.js';
import type { Column, ColumnKind, ColumnValue } from './column.js';

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
  readonly kind: 'number' | 'text';
}

/** Name and kind of cells of the columns, for CSV, GeoJSON and JSON. Angles in DMS are text. */
export function cellColumns<Of>(
  columns: readonly WrittenColumn<Of>[],
  form: AngleForm = 'degrees',
): readonly CellColumn[] {
  return columns.map(({ name, kind }) => ({ name, kind: isNumber(kind, form) ? 'number' : 'text' }));
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
      return false;
  }
}

/** Makes the cells of rows under the columns, as text; what is not known is an empty cell. */
export function createCellTexts<Of>(
  columns: readonly WrittenColumn<Of>[],
  form: AngleForm = 'degrees',
): (of: Of) => string[] {
  const texts = columns.map(({ name, kind, decimals, get }): ((of: Of) => string) => {
    if (get === null) throw new InternalError(`the column ${name} is not written`);
    const write = cellText(kind, decimals, form);
    return (of) => {
      const value = get(of);
      return value === null ? '' : write(value);
    };
  });
  return (of) => {
    const cells: string[] = [];
    for (const text of texts) cells.push(text(of));
    return cells;
  };
}

/** Writes the values of one kind. */
function cellText(kind: ColumnKind, decimals: number, form: AngleForm): (value: NonNullable<ColumnValue>) => string {
  const isDms = form === 'dms';
  switch (kind) {
    case 'id':
    case 'text':
    case 'word':
      return (value) => value as string;
    case 'codes':
      return (value) => (value as readonly string[]).join(';');
    case 'whole':
      return (value) => String(value);
    case 'time':
      return (value) => formatUtc(value as number);
    case 'number':
      return (value) => formatFixed(value as number, decimals);
    case 'latitude':
    case 'longitude':
      return (value) =>
        isDms ? formatDms(value as number, kind, PLACE_SECONDS) : formatFixed(value as number, decimals);
    case 'angle':
    case 'direction': {
      const write = (value: number): string =>
        isDms ? formatDms(value, 'any', DIRECTION_SECONDS) : formatFixed(value, decimals);
      // A direction as written lies below 360.
      return (value) => {
        const text = write(value as number);
        return kind === 'direction' && text.startsWith('360') ? write(0) : text;
      };
    }
  }
}
