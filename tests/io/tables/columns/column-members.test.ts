import { describe, expect, it } from 'vitest';
import { rawJsonText } from '../../../../src/io/documents/json/raw-json.js';
import { createCellTexts } from '../../../../src/io/tables/columns/cells/cell-text.js';
import { column } from '../../../../src/io/tables/columns/column.js';
import type { Column } from '../../../../src/io/tables/columns/column.js';
import { createMembers, createProperties } from '../../../../src/io/tables/columns/column-members.js';
import { AS_GIVEN } from '../../../../src/io/tables/columns/cells/decimals.js';

interface Thing {
  readonly id: string | null;
  readonly isOpen: boolean | null;
  readonly lengthM: number | null;
  readonly cost: number | null;
  readonly startMs: number | null;
  readonly names: readonly string[];
}

const COLUMNS: readonly Column<never, Thing>[] = [
  column({ name: 'id', kind: 'id', get: ({ id }) => id, describe: '' }),
  column({ name: 'open', kind: 'yes-no', get: ({ isOpen }) => isOpen, describe: '' }),
  column({ name: 'length_m', kind: 'number', unit: 'm', get: ({ lengthM }) => lengthM, describe: '' }),
  column({ name: 'cost', kind: 'number', decimals: AS_GIVEN, get: ({ cost }) => cost, describe: '' }),
  column({ name: 'start_utc', kind: 'time', get: ({ startMs }) => startMs, describe: '' }),
  column({ name: 'names', kind: 'codes', get: ({ names }) => names, describe: '' }),
];

const FULL: Thing = { id: 'A', isOpen: false, lengthM: 1.00005, cost: 12.5, startMs: 0, names: ['a', 'b'] };
const EMPTY: Thing = { id: null, isOpen: null, lengthM: null, cost: null, startMs: null, names: [] };

describe('the columns of a row', () => {
  it('are cells of CSV', () => {
    const cellsOf = createCellTexts(COLUMNS);
    expect(cellsOf(FULL)).toEqual(['A', 'no', '1.0001', '12.5', '1970-01-01T00:00:00Z', 'a;b']);
    expect(cellsOf({ ...EMPTY, isOpen: true })).toEqual(['', 'yes', '', '', '', '']);
  });

  it('are members of JSON, with the digits of the cells', () => {
    const membersOf = createMembers(COLUMNS);
    expect(rawJsonText(membersOf(FULL))).toBe(
      '{"id":"A","open":false,"length_m":1.0001,"cost":12.5,"start_utc":"1970-01-01T00:00:00Z","names":["a","b"]}',
    );
    expect(rawJsonText(membersOf(EMPTY))).toBe(
      '{"id":null,"open":null,"length_m":null,"cost":null,"start_utc":null,"names":[]}',
    );
  });

  it('are properties of GeoJSON', () => {
    const propertiesOf = createProperties(COLUMNS.filter(({ name }) => name !== 'cost'));
    expect(propertiesOf(FULL)).toEqual({
      id: 'A',
      open: 'no',
      length_m: { value: 1.00005, decimals: 4 },
      start_utc: '1970-01-01T00:00:00Z',
      names: 'a;b',
    });
    expect(propertiesOf(EMPTY)).toEqual({ id: null, open: null, length_m: null, start_utc: null, names: '' });
  });
});
