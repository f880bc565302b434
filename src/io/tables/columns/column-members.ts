import type { RawJson } from '../../documents/json/raw-json.js';
import type { ShapeProperty } from '../../geojson/geojson-shape-write.js';
import { cellColumns, createCellTexts } from './cells/cell-text.js';
import type { WrittenColumn } from './cells/cell-text.js';

/**
 * Makes the members of an object of JSON from the columns of a row: numbers with the digits of their cells, codes as a list, yes
 * and no as true and false; what is not known is null.
 */
export function createMembers<Of>(
  columns: readonly WrittenColumn<Of>[],
): (of: Of) => Readonly<Record<string, RawJson>> {
  const cellsOf = createCellTexts(columns);
  const kinds = cellColumns(columns);
  return (of) => {
    const cells = cellsOf(of);
    return Object.fromEntries(
      columns.map(({ name, get }, index): [string, RawJson] => {
        const value = get?.(of) ?? null;
        // One cell for each column.
        const text = cells[index] ?? '';
        if (value === null || typeof value === 'boolean' || typeof value === 'object') return [name, value];
        return [name, kinds[index]?.kind === 'number' ? { raw: text } : text];
      }),
    );
  };
}

/** Makes the properties of a feature of GeoJSON from the columns of a row; what is not known is null. */
export function createProperties<Of>(
  columns: readonly WrittenColumn<Of>[],
): (of: Of) => Readonly<Record<string, ShapeProperty>> {
  const cellsOf = createCellTexts(columns);
  const kinds = cellColumns(columns);
  return (of) => {
    const cells = cellsOf(of);
    return Object.fromEntries(
      columns.map(({ name, decimals, get }, index): [string, ShapeProperty] => {
        const value = get?.(of) ?? null;
        if (value === null) return [name, null];
        const isNumber = kinds[index]?.kind === 'number' && typeof value === 'number';
        // One cell for each column.
        return [name, isNumber ? { value, decimals } : (cells[index] ?? '')];
      }),
    );
  };
}
