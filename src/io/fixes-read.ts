import type { Fix } from '../records/fix.js';
import { success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import type { Problem } from '../records/problem.js';
import { createCellReader } from './cell-read.js';
import { mapColumns } from './column-map.js';
import { rowLengthProblem } from './csv-read.js';
import type { CsvTable } from './csv-read.js';
import { FIX_TABLE } from './fix-columns.js';
import { createPlainCellReader } from './plain-cell-read.js';
import { plainRow } from './plain-records.js';
import { createFixRow } from './fix-row.js';
import type { FixRowOptions } from './fix-row.js';

/** A row that cannot be used, as it stands in the file. */
export interface RejectedRow {
  readonly line: number;
  /** Text of the row without its line end. */
  readonly raw: string;
  readonly problems: readonly Problem[];
}

/** Fixes that follow each other in one input, and what could not be read among them. */
export interface FixBlock {
  readonly fixes: readonly Fix[];
  readonly rejected: readonly RejectedRow[];
  /** Warnings and notes that cost no row. */
  readonly warnings: readonly Problem[];
  /** The row of one of these fixes as it stands in the file; for a fix refused later. */
  readonly rawOf: (fix: Fix) => string;
}

/** The fixes of one input. CSV, GeoJSON and NMEA inputs all end in this. */
export interface FixInput {
  /** Names of the columns that pass through, in the order of `Fix.passThrough`. */
  readonly passThroughNames: readonly string[];
  /** The header as it stands in the file, for the file of rejected rows; null where there is none. */
  readonly headerRaw: string | null;
  /** A failure is the last item. May be read once. */
  readonly blocks: () => AsyncGenerator<Outcome<FixBlock>>;
}

export interface FixReadOptions extends FixRowOptions {
  /** Our column name to the file's header or position. */
  readonly mapping: Readonly<Record<string, string>>;
}

/** Fixes are handed on so many at a time, so that few are alive when memory is cleared of dead ones. */
const MOST_FIXES = 256;

/**
 * Reads fixes from a table (the columns are in docs/file-formats.md).
 * Problems: those of `mapColumns`; with the blocks, those of the table; with each rejected row, those of its cells.
 */
export function readFixes(table: CsvTable, options: FixReadOptions): Outcome<FixInput> {
  const { source, header, headerLine, dialect } = table;
  const mapped = mapColumns({ source, header, headerLine, hasHeader: dialect.hasHeader }, FIX_TABLE, options.mapping);
  if (!mapped.ok) return mapped;
  const map = mapped.value;

  async function* blocks(): AsyncGenerator<Outcome<FixBlock>> {
    const cells = createCellReader(map, source, dialect.decimalComma);
    const readFix = createFixRow(map, cells, options);
    const isPlainDialect = !dialect.decimalComma && dialect.delimiter.charCodeAt(0) < 0x80;
    const plainCells = createPlainCellReader(map, header.length, dialect.delimiter);
    const readPlainFix = createFixRow(map, plainCells, options);
    for await (const block of table.blocks()) {
      if (!block.ok) {
        yield block;
        return;
      }
      const { plain, firstRecord, lineOf, rawOf } = block.value;
      const rows = plain === null ? block.value.rows : null;
      const count = plain === null ? block.value.rows.length : plain.count;
      let fixes: Fix[] = [];
      let rejected: RejectedRow[] = [];
      const piece = (): Outcome<FixBlock> => success({ fixes, rejected, warnings: [], rawOf: (fix) => rawAtLine(fix.place.line, count, lineOf, rawOf) });
      for (let index = 0; index < count; index += 1) {
        if (fixes.length === MOST_FIXES) {
          yield piece();
          fixes = [];
          rejected = [];
        }
        const line = lineOf(index);
        if (plain !== null && isPlainDialect && plainCells.start(plain.bytes, plain.startOf(index), plain.endOf(index))) {
          const fix = readPlainFix(line);
          if (fix !== null) {
            fixes.push(fix);
            continue;
          }
        }
        const row = plain === null ? (rows?.[index] ?? []) : plainRow(plain, index, dialect.delimiter);
        const record = firstRecord + index;
        if (row.length !== header.length) {
          const problem = rowLengthProblem(row, header, { source, line, record });
          if (problem !== null) rejected.push({ line, raw: rawOf(index), problems: [problem] });
          continue;
        }
        cells.start(row, line, record);
        const fix = readFix(line);
        if (fix !== null) fixes.push(fix);
        else rejected.push({ line, raw: rawOf(index), problems: [...cells.problems] });
      }
      yield piece();
    }
  }

  const passThroughNames = map.passThrough.map((column) => column.name);
  return success({ passThroughNames, headerRaw: table.headerRaw, blocks }, mapped.problems);
}

/** The row that starts on a line as it stands in the file; empty where none does. */
function rawAtLine(line: number, count: number, lineOf: (index: number) => number, rawOf: (index: number) => string): string {
  for (let index = 0; index < count; index += 1) if (lineOf(index) === line) return rawOf(index);
  return '';
}
