import { Buffer } from 'node:buffer';
import { geocentricToGeodetic } from '../../core/ellipsoid/geocentric.js';
import { WGS84 } from '../../core/ellipsoid/ellipsoid.js';
import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import { rowCount } from '../../io/csv/csv-block.js';
import type { CsvDialect } from '../../io/csv/csv-dialect.js';
import { DEFAULT_DIALECT } from '../../io/csv/csv-dialect.js';
import { readCsv } from '../../io/csv/csv-read.js';
import type { CsvTable } from '../../io/csv/csv-read.js';
import { plainRow } from '../../io/csv/plain-records.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Fix } from '../../records/points/fix.js';
import { entryAt } from '../../records/present.js';
import { errorProblem } from '../../records/problem.js';
import type { DraftTable } from '../../tasks/draft/draft-session.js';
import { guessDialect } from '../../tasks/draft/guesses/guess-dialect.js';
import type { DialectGuess } from '../../tasks/draft/guesses/guess-dialect.js';
import { guessEncoding } from '../../tasks/draft/guesses/guess-encoding.js';
import { inputKind, openFixes, PLAIN_LOG } from '../reduction/open-fixes.js';
import type { FixInputKind } from '../reduction/open-fixes.js';
import type { Surroundings } from '../surroundings.js';

/** A file of fixes, as far as a draft needs it. */
export type DraftSource = { readonly name: string; readonly kind: FixInputKind; readonly isKindGuessed: boolean } & (
  { readonly table: DraftTable; readonly fixes: null } | { readonly table: null; readonly fixes: readonly Fix[] }
);

/** Bytes and rows that a draft is made from; what lies behind is met by the reduction. */
const MOST_BYTES = 8 << 20;
const MOST_ROWS = 50_000;

/** Reads a file for its draft. Problems: those of the file; file-encoding for what is no text; csv-empty; those of a document or log. */
export async function readDraftSource(
  path: string,
  stated: FixInputKind | null,
  surroundings: Surroundings,
): Promise<Outcome<DraftSource>> {
  const bytes = await firstBytes(path, surroundings);
  if (!bytes.ok) return bytes;
  const { name, head } = bytes.value;
  const kind = kindOf(path, stated, head);
  const isKindGuessed = kind !== inputKind(path, stated);
  if (kind === 'nmea') {
    const fixes = await logFixes(path, name, head, surroundings);
    return fixes.ok ? success({ name, kind, isKindGuessed, table: null, fixes: fixes.value }) : fixes;
  }
  const table = kind === 'geojson' ? await documentTable(name, head) : await textTable(name, head);
  return table.ok ? success({ name, kind, isKindGuessed, table: table.value, fixes: null }) : table;
}

/** By name or word, else by the first character of the file. */
function kindOf(path: string, stated: FixInputKind | null, head: Buffer): FixInputKind {
  const named = inputKind(path, stated);
  if (stated !== null || named !== 'csv') return named;
  const first = head.toString('latin1', 0, 200).trimStart();
  return /^[$!][A-Z]{2}/u.test(first) ? 'nmea' : first.startsWith('{') ? 'geojson' : 'csv';
}

async function firstBytes(
  path: string,
  { cwd, stdin }: Surroundings,
): Promise<Outcome<{ readonly name: string; readonly head: Buffer }>> {
  const opened = await openSource(path, { cwd, stdin, anyBytes: true });
  if (!opened.ok) return opened;
  const parts: Buffer[] = [];
  let total = 0;
  for await (const chunk of opened.value.chunks()) {
    if (!chunk.ok) return chunk;
    parts.push(chunk.value);
    total += chunk.value.length;
    if (total > MOST_BYTES && inputKind(path, null) !== 'geojson') break;
  }
  await opened.value.close();
  const whole = Buffer.concat(parts);
  // A file that was not read to its end is cut at the end of a line.
  return success({
    name: opened.value.name,
    head: total > MOST_BYTES ? whole.subarray(0, whole.lastIndexOf(0x0a) + 1) : whole,
  });
}

async function textTable(name: string, head: Buffer): Promise<Outcome<DraftTable>> {
  const encoding = guessEncoding(head);
  if (encoding === null)
    return failure(
      errorProblem('file-encoding', {
        message: 'holds bytes that are no text',
        where: { source: name },
        hint: 'export the fixes as text: CSV, GeoJSON or NMEA 0183',
      }),
    );
  const text = new TextDecoder(encoding.encoding).decode(head);
  const guess = guessDialect(text);
  const table = await tableOfText(text, name, dialectOf(guess));
  if (!table.ok) return table;
  const read = await rowsOf(table.value, MOST_ROWS + guess.rowsUnderHeader);
  if (!read.ok) return read;
  const units = guess.rowsUnderHeader > 0 ? (read.value[0] ?? null) : null;
  return success({
    dialect: guess,
    encoding,
    header: table.value.header,
    unitsRow: units,
    rows: read.value.slice(guess.rowsUnderHeader),
  });
}

function dialectOf(guess: DialectGuess): CsvDialect {
  return {
    delimiter: guess.delimiter ?? ',',
    comment: guess.comment,
    skipLines: guess.skipLines,
    hasHeader: guess.hasHeader,
    decimalComma: guess.decimalMark === ',',
  };
}

async function tableOfText(text: string, name: string, dialect: CsvDialect): Promise<Outcome<CsvTable>> {
  const source = await sourceOf(text, name);
  return source.ok ? readCsv(source.value, dialect) : source;
}

/** Text that was read already, as a source of its name. */
async function sourceOf(text: string | Buffer, name: string): Promise<Outcome<Source>> {
  const bytes = typeof text === 'string' ? Buffer.from(text, 'utf8') : text;
  const opened = await openSource('-', { cwd: '.', stdin: once(bytes) });
  return opened.ok ? success({ ...opened.value, name }) : opened;
}

async function* once(bytes: Buffer): AsyncGenerator<Uint8Array> {
  await Promise.resolve();
  yield bytes;
}

async function rowsOf(table: CsvTable, most: number): Promise<Outcome<readonly (readonly string[])[]>> {
  const rows: (readonly string[])[] = [];
  for await (const block of table.blocks()) {
    if (!block.ok) return block;
    const { plain } = block.value;
    for (let index = 0; index < rowCount(block.value) && rows.length < most; index += 1)
      rows.push(plain === null ? entryAt(block.value.rows(), index) : plainRow(plain, index, table.dialect.delimiter));
    if (rows.length >= most) break;
  }
  return success(rows);
}

async function documentTable(name: string, bytes: Buffer): Promise<Outcome<DraftTable>> {
  const { readGeojsonTable } = await import('../../io/geojson/geojson-table.js');
  const table = readGeojsonTable(bytes.toString('utf8'), name);
  if (!table.ok) return table;
  const rows = await rowsOf(table.value, MOST_ROWS);
  return rows.ok
    ? success({ dialect: null, encoding: null, header: table.value.header, unitsRow: null, rows: rows.value })
    : rows;
}

async function logFixes(
  path: string,
  name: string,
  head: Buffer,
  { cwd }: Surroundings,
): Promise<Outcome<readonly Fix[]>> {
  const opened = await openFixes(
    path === '-' ? '-' : path,
    0,
    {
      tables: { dialect: DEFAULT_DIALECT, encoding: null, mapping: {} },
      kind: 'nmea',
      places: { toGeodetic: (point) => geocentricToGeodetic(point, WGS84) },
      referencePoint: null,
      log: PLAIN_LOG,
    },
    { cwd, stdin: once(head) },
  );
  if (!opened.ok) return opened;
  const fixes: Fix[] = [];
  for await (const block of opened.value.input.blocks()) {
    if (!block.ok) return block;
    for (const fix of block.value.fixes) fixes.push(fix);
    if (fixes.length >= MOST_ROWS) break;
  }
  await opened.value.source.close();
  return fixes.length > 0
    ? success(fixes)
    : failure(
        errorProblem('csv-empty', { message: 'holds no position', where: { source: name }, hint: 'check the file' }),
      );
}
