import { gpsFromUtc } from '../../../core/sky/gps-clock.js';
import { readNavigationFiles } from '../../../files/sky/read-navigation-files.js';
import type { NavigationFile } from '../../../files/sky/read-navigation-files.js';
import { readSideTable } from '../../../files/tables/side-table.js';
import { readMasks } from '../../../io/tables/mask-read.js';
import type { MaskRow } from '../../../io/tables/mask-read.js';
import { warningProblem } from '../../../records/problem.js';
import type { SkySite } from '../../../records/sky/site-sky.js';
import { skylinesByPoint } from '../../../tasks/sky/skylines-by-point.js';
import { listOption, textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { SkyOptions } from './sky-options.js';
import type { SkySites } from './sky-sites.js';

/** The navigation files of --navigation. Bad records stop the run, or are reported and left out. */
export async function navigationOf(
  bench: Workbench,
  log: RunLog,
  { times }: SkyOptions,
): Promise<readonly NavigationFile[]> {
  const { invocation, context, progress, diagnostics } = bench;
  progress.update('reading navigation files');
  const skipsBad = textOption(invocation, 'onError') === 'skip';
  // Before 1999 there are no leap seconds here, and the plan is refused.
  const near = gpsFromUtc(times.fromMs) ?? times.fromMs;
  const files = bench.take(await readNavigationFiles(listOption(invocation, 'navigation'), near, skipsBad, context));
  for (const { source, form, elements, faults } of files) {
    diagnostics.report(faults);
    log.input(source, form, elements.length, faults.length);
  }
  return files;
}

/** The places with the skylines of --masks. */
export async function withMasks(
  bench: Workbench,
  log: RunLog,
  sites: SkySites,
  { declinationDeg }: SkyOptions,
): Promise<SkySites> {
  const path = textOption(bench.invocation, 'masks');
  if (path === null) return sites;
  const { source, rows } = bench.take(await readSideTable(path, readMasks, bench.context));
  log.input(source, 'masks', rows.length, 0);
  const byPoint = new Map<string, MaskRow[]>();
  for (const row of rows) {
    const own = byPoint.get(row.pointId);
    if (own === undefined) byPoint.set(row.pointId, [row]);
    else own.push(row);
  }
  const places = [...sites.sites, ...(sites.base === null ? [] : [sites.base])];
  warnOf(byPoint, new Set(places.map(({ id }) => id)), source.name, bench);
  const skylines = skylinesByPoint(rows, declinationDeg);
  // A site without a mask is open.
  const masked = (site: SkySite): SkySite => ({ ...site, skyline: skylines.get(site.id) ?? site.skyline });
  return { ...sites, sites: sites.sites.map(masked), base: sites.base === null ? null : masked(sites.base) };
}

/** Names that no place has are spelt wrongly more often than not, and a single place is no skyline. */
function warnOf(
  byPoint: ReadonlyMap<string, readonly MaskRow[]>,
  known: ReadonlySet<string>,
  source: string,
  { diagnostics }: Workbench,
): void {
  for (const [id, [first, ...more]] of byPoint) {
    const where = { source, ...(first !== undefined && { line: first.line }) };
    if (!known.has(id))
      diagnostics.report([
        warningProblem('mask-no-place', { message: `${id} is neither a point nor the base`, where, received: id }),
      ]);
    else if (more.length === 0)
      diagnostics.report([
        warningProblem('mask-few-places', {
          message: `the mask of ${id} has a single place, and stands as high all around`,
          where,
        }),
      ]);
  }
}
