import { Readable } from 'node:stream';
import { sessionDialect } from '../sessions/session-dialect.js';
import { fixPlaces } from './fix-places.js';
import type { FixInput } from '../../io/tables/fixes/fixes-read.js';
import { errorProblem } from '../../records/problem.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { openFixes, PLAIN_LOG } from './open-fixes.js';
import type { Reduction } from './prepare-reduction.js';

/** The fixes of one file, in blocks, and the names of the columns that pass through. */
export type FixesFile = Pick<FixInput, 'passThroughNames' | 'blocks'>;

/**
 * The fixes of a file: CSV with a header, GeoJSON or NMEA 0183 by the extension of its name, with the columns of the session.
 *
 * Given: one of the paths that the reduction was prepared for. Returned: blocks to be read once, in order; a failure is the last.
 * Each block holds fixes for `createReducer` and the rows that could not be read, with their problems.
 * Problems: file-not-found; csv-missing-column and the like; usage-invalid for a path that the reduction does not know.
 *
 * @example
 * const fixes = await readFixesFile('fixes.csv', reduction);
 * if (fixes.ok) for await (const block of fixes.value.blocks()) if (block.ok) reducer.push(block.value.fixes);
 */
export async function readFixesFile(path: string, { paths, session, setup }: Reduction): Promise<Outcome<FixesFile>> {
  const index = paths.indexOf(path);
  if (index < 0) {
    return failure(
      errorProblem('usage-invalid', {
        message: `${path} is not among the files of this reduction`,
        received: path,
        expected: paths.join(', '),
        hint: 'name every file when the reduction is prepared',
      }),
    );
  }
  const { columns, table } = session.session;
  const dialect = sessionDialect(table);
  if (!dialect.ok) return dialect;
  const tables = { dialect: dialect.value, encoding: table.encoding, mapping: columns, solution: table.solution };
  const bases = setup.bases.map((base) => base.settings);
  const log = { ...PLAIN_LOG, baseIds: bases.map(({ id }) => id), spans: bases };
  const settings = {
    tables,
    kind: null,
    places: fixPlaces(setup),
    referencePoint: setup.rover.referencePoint,
    log,
  };
  const opened = await openFixes(path, index, settings, { cwd: '.', stdin: Readable.from([]) });
  if (!opened.ok) return opened;
  const { passThroughNames, blocks } = opened.value.input;
  return success({ passThroughNames, blocks }, opened.problems);
}
