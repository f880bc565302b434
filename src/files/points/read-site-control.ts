import type { SiteAxes } from '../../core/adjustment/site/site-axes.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { RowsOfFile } from '../../tasks/site/run-site.js';
import { PLAIN_TABLES, workingFolder } from '../tables/as-it-stands.js';
import type { Surroundings } from '../surroundings.js';
import { openPoints } from './open-points.js';
import type { OpenedPoints, PointInputSettings } from './open-points.js';
import { wholePoints } from './whole-points.js';

/** Opens a file of control of a site. Problems: those of opening; csv-axes-mismatch where its pair has other names than the axes of the site. */
export async function openSiteControl(
  path: string,
  { columns }: Pick<SiteAxes, 'columns'>,
  tables: PointInputSettings['tables'],
  surroundings: Surroundings,
): Promise<Outcome<OpenedPoints>> {
  const settings = { tables, grid: null, needs: { position: 'none', height: 'none' } } as const;
  const opened = await openPoints(path, 1, settings, surroundings);
  if (!opened.ok) return opened;
  const { input, source } = opened.value;
  const { axes } = input;
  if (axes === null || (axes[0] === columns[0] && axes[1] === columns[1])) return opened;
  return failureOf([
    ...opened.problems,
    errorProblem('csv-axes-mismatch', {
      message: `the pair of the control is ${axes.join(', ')} and that of the site is ${columns.join(', ')}`,
      where: { source: source.name },
      received: axes.join(','),
      expected: columns.join(','),
      hint: `if the site really has these axes and this unit, say so: --site-axes ${axes.join(',')}`,
    }),
  ]);
}

/**
 * The control of a site: all its points, with the size and digest of their file.
 *
 * Given: its path, from the working folder; the axes of the site, whose names its pair must have. Returned: what `runSite` takes.
 * Problems: as of `readPointsFile`; csv-axes-mismatch.
 *
 * @example
 * const axes = { columns: ['easting_m', 'northing_m'], metresPerUnit: 1 };
 * const control = await readSiteControl('../quillback-pan-site/control.csv', axes);
 * control.value.rows[0].gridFirst; // 3973.7806
 */
export async function readSiteControl(path: string, axes: SiteAxes): Promise<Outcome<RowsOfFile>> {
  const opened = await openSiteControl(path, axes, PLAIN_TABLES, workingFolder());
  if (!opened.ok) return opened;
  const rows = await wholePoints(opened.value);
  return rows.ok
    ? success({ rows: rows.value, digest: opened.value.source.digest() }, [...opened.problems, ...rows.problems])
    : rows;
}
