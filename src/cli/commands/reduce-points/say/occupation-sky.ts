import { WGS84 } from '../../../../core/ellipsoid/ellipsoid.js';
import { gpsFromUtc } from '../../../../core/sky/gps-clock.js';
import { readNavigationFiles } from '../../../../files/sky/read-navigation-files.js';
import { readSideTable } from '../../../../files/tables/side-table.js';
import type { ReductionAudience } from '../../../../files/reduction/reduction-flow.js';
import { cellColumns, createCellTexts } from '../../../../io/tables/columns/cells/cell-text.js';
import { readMasks } from '../../../../io/tables/mask-read.js';
import type { SkylinePoint } from '../../../../core/sky/obstruction-mask.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem, warningProblem } from '../../../../records/problem.js';
import type { OccupationSky } from '../../../../records/reports/parts/occupation-sky.js';
import { createDoubtfulOccupations } from '../../../../tasks/sky/doubtful-occupations.js';
import { occupationSkies } from '../../../../tasks/sky/occupation-skies.js';
import { skylinesByPoint } from '../../../../tasks/sky/skylines-by-point.js';
import { csvWriteOptions } from '../../../outputs/csv-write-options.js';
import { recordPieces } from '../../../outputs/record-writer.js';
import { flagOf, isGiven, listOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import { formatByEnding } from '../../../shell/run/side-tables.js';
import type { Workbench } from '../../../shell/workbench.js';
import { OCCUPATION_SKY_COLUMNS } from './occupation-sky-columns.js';

/** Below this no satellite counts. Common practice, no published source. */
const ELEVATION_MASK_DEG = 10;

/** The sky over doubtful occupations, gathered while a run goes on. */
export interface OccupationSkyWriter extends Pick<ReductionAudience, 'addOccupation'> {
  /** Reads the navigation files, writes the table of --sky, and gives what the page shows. Problems stop the run. */
  readonly end: () => Promise<readonly OccupationSky[]>;
}

/** Opens the table of --sky; null where no navigation file is named. Problems: usage-conflict for options that would be ignored. */
export async function openOccupationSky(bench: Workbench, log: RunLog): Promise<OccupationSkyWriter | null> {
  const { invocation, context, diagnostics } = bench;
  bench.take(checkSkyOptions(invocation));
  const paths = listOption(invocation, 'navigation');
  if (paths.length === 0) return null;
  const output = textOption(invocation, 'sky');
  bench.columns(
    OCCUPATION_SKY_COLUMNS.map(({ name }) => name),
    'sky',
  );
  const sink = output === null ? null : await bench.open(output);
  const doubtful = createDoubtfulOccupations();
  return {
    addOccupation(reduced, { setup }) {
      doubtful.add(reduced, setup);
    },
    async end() {
      const firstMs = doubtful.listed[0]?.atMs ?? 0; // Without one the files are only checked.
      const near = gpsFromUtc(firstMs) ?? firstMs; // Before 1999 nothing is known of the sky.
      const skipsBad = textOption(invocation, 'onError') === 'skip';
      const files = bench.take(await readNavigationFiles(paths, near, skipsBad, context));
      for (const { source, form, elements, faults } of files) {
        diagnostics.report(faults);
        log.input(source, form, elements.length, faults.length);
      }
      const { skies, withoutElements } = occupationSkies(doubtful.listed, {
        ellipsoid: WGS84,
        elements: files.flatMap(({ elements }) => elements),
        skylines: await skylinesOf(bench, log),
        elevationMaskDeg: ELEVATION_MASK_DEG,
      });
      if (withoutElements > 0)
        diagnostics.report([
          warningProblem('sky-elements-missing', {
            message: `of ${String(withoutElements)} doubtful occupations the navigation files tell nothing: their elements lie too far away`,
            hint: 'give the navigation file of the day',
          }),
        ]);
      if (sink !== null && output !== null) {
        const cells = createCellTexts(OCCUPATION_SKY_COLUMNS);
        const rows = skies.map((sky) => ({ cells: cells(sky), geometry: { kind: 'lines' as const, lines: [] } }));
        const head = { schema: 'pegbook-occupation-sky', list: 'occupations', members: {}, summary: null };
        const columns = cellColumns(OCCUPATION_SKY_COLUMNS);
        for (const piece of recordPieces(formatByEnding(output), columns, rows, head, csvWriteOptions(invocation)))
          await sink.write(piece);
      }
      return skies;
    },
  };
}

async function skylinesOf(bench: Workbench, log: RunLog): Promise<ReadonlyMap<string, readonly SkylinePoint[]>> {
  const path = textOption(bench.invocation, 'masks');
  if (path === null) return new Map();
  const { source, rows } = bench.take(await readSideTable(path, readMasks, bench.context));
  log.input(source, 'masks', rows.length, 0);
  return skylinesByPoint(rows, 0);
}

function checkSkyOptions(invocation: Invocation): Outcome<null> {
  const hasFiles = isGiven(invocation, 'navigation');
  const idle = hasFiles ? undefined : (['sky', 'masks'] as const).find((name) => isGiven(invocation, name));
  if (idle !== undefined)
    return failure(
      errorProblem('usage-conflict', {
        message: `${flagOf(idle)} needs --navigation`,
        hint: 'name the navigation file of the day, or leave it out',
      }),
    );
  if (hasFiles && !isGiven(invocation, 'sky') && !isGiven(invocation, 'report'))
    return failure(
      errorProblem('usage-conflict', {
        message: '--navigation says nothing without --sky or --report',
        hint: 'give one of them, or leave it out',
      }),
    );
  return success(null);
}
