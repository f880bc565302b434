import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { ISO_LEAST_DISTANCE_M, ISO_MOST_DISTANCE_M } from '../../../core/quality/standards/iso-17123-8.js';
import type { Standard } from '../../../core/quality/standards/standards.js';
import type { IsoMeasurement, IsoSet } from '../../../core/quality/standards/iso-17123-8.js';
import { readCsv } from '../../../io/csv/csv-read.js';
import { readIsoSeries } from '../../../io/tables/iso-series-read.js';
import { openSource } from '../../../io/bytes/source.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { checkIso } from '../../../tasks/check/judge/check-tolerances-iso.js';
import type { IsoResult } from '../../../tasks/check/judge/check-tolerances-iso.js';
import { checkAnswer } from '../../../tasks/check/check-answer.js';
import { notJudged } from '../../../tasks/check/judge/check-tolerances-standard.js';
import type { StandardStatement } from '../../../tasks/check/judge/check-tolerances-standard-statement.js';
import { numberOption, textOption } from '../../shell/command-spec.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cell-text.js';
import { column } from '../../../io/tables/columns/column.js';
import type { Column } from '../../../io/tables/columns/column.js';
import type { WrittenRecord } from '../../outputs/record-writer.js';
import { verdictLine } from './say/check-verdict-text.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { recordsText } from '../../outputs/record-writer.js';
import { endWith } from '../../shell/run-end.js';
import type { RunLog } from '../../shell/run-log.js';
import type { TableOptions } from '../../inputs/table-options.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { checkAxes } from '../../../files/check/check-axes.js';
import { openCheckPlaces, writeCheckJunit, writeCheckPage } from './check-tolerances-places.js';

const NEEDED = ['nominalDistance', 'nominalHeightDifference', 'sigmaHorizontal', 'sigmaVertical'] as const;

/** Runs the field procedure of a file of series, sets and points, from its options to its answer. */
export async function runIso(bench: Workbench, log: RunLog, tables: TableOptions, standard: Standard): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const path = invocation.args[0];
  if (path === undefined)
    return bench.take(
      failure(
        errorProblem('usage-invalid', {
          message: 'no file of series is named',
          hint: 'pegbook check-tolerances FILE --standard iso-17123-8 ...',
        }),
      ),
    );
  const places = await openCheckPlaces(bench);
  const result = await procedure(path, bench, log, tables);
  const statements = [...isoStatements(result), ...notJudged(standard)];
  const run = checkAnswer({
    rows: [],
    statements,
    refusals: new Map(),
    areFixesRefused: false,
    rowsSkipped: 0,
    doubtfulPoints: 0,
  });
  await places.output?.write(
    recordsText(
      bench.format,
      cellColumns(ISO_COLUMNS),
      isoRecords(result),
      { schema: 'pegbook-iso-17123-8', list: 'sets', members: { procedure: result.procedure, verdict: run.answer } },
      csvWriteOptions(invocation),
    ),
  );
  await writeCheckJunit(places, [], statements, run, bench);
  for (const statement of statements) diagnostics.say(`${statement.what}: ${statement.text}`);
  await writeCheckPage(
    places,
    {
      rows: [],
      setup: { grid: null, bases: [], axes: checkAxes(null, null) },
      summary: null,
      statements,
      search: null,
      groups: [],
      day: null,
      dayLines: [],
      inputDoubts: { rejected: 0, review: 0 },
    },
    { title: null, answer: run.answer },
    bench,
    log,
  );
  diagnostics.say(verdictLine(run, [], statements, false));
  return endWith(run, invocation, log);
}

async function procedure(path: string, bench: Workbench, log: RunLog, tables: TableOptions): Promise<IsoResult> {
  const [distanceM, heightDifferenceM, sigmaXyM, sigmaHeightM] = NEEDED.map((name) =>
    numberOption(bench.invocation, name),
  );
  if (
    distanceM === null ||
    distanceM === undefined ||
    heightDifferenceM === null ||
    heightDifferenceM === undefined ||
    sigmaXyM === null ||
    sigmaXyM === undefined ||
    sigmaHeightM === null ||
    sigmaHeightM === undefined
  ) {
    return bench.take(
      failure(
        errorProblem('config-missing', {
          message: 'the procedure needs the nominal vector and the predetermined sigmas',
          hint: 'give --nominal-distance, --nominal-height-difference, --sigma-horizontal and --sigma-vertical, in metres',
        }),
      ),
    );
  }
  if (!(distanceM > 0 && sigmaXyM > 0 && sigmaHeightM > 0))
    bench.take(
      failure(
        errorProblem('usage-invalid', { message: 'the nominal distance and the sigmas must be more than 0 metres' }),
      ),
    );
  const measurements = await read(path, bench, log, tables);
  const campaign = textOption(bench.invocation, 'campaign');
  const other = campaign === null ? null : await read(campaign, bench, log, tables);
  return bench.take(checkIso(measurements, { distanceM, heightDifferenceM, sigmaXyM, sigmaHeightM }, other, path));
}

async function read(
  path: string,
  bench: Workbench,
  log: RunLog,
  tables: TableOptions,
): Promise<readonly IsoMeasurement[]> {
  const source = bench.take(
    await openSource(path, { cwd: bench.context.cwd, stdin: bench.context.stdin, encoding: tables.encoding }),
  );
  const table = bench.take(await readCsv(source, tables.dialect));
  const measurements = bench.take(await readIsoSeries(table, tables.mapping));
  log.input(source, 'iso-17123-8 series', measurements.length, 0);
  return measurements;
}

/** A set of the screen, and the limits that it is held against. */
interface ScreenedSet {
  readonly set: IsoSet;
  readonly screen: IsoResult['screen'];
}

const ISO_COLUMNS: readonly Column<never, ScreenedSet>[] = [
  column({ name: 'series', kind: 'whole', get: ({ set }) => set.series, describe: 'the series' }),
  column({ name: 'set', kind: 'whole', get: ({ set }) => set.set, describe: 'the set in it' }),
  column({
    name: 'distance_m',
    kind: 'number',
    unit: 'm',
    get: ({ set }) => set.distanceM,
    describe: 'measured between the two points',
  }),
  column({
    name: 'height_difference_m',
    kind: 'number',
    unit: 'm',
    get: ({ set }) => set.heightDifferenceM,
    describe: 'measured between the two points',
  }),
  column({
    name: 'distance_error_m',
    kind: 'number',
    unit: 'm',
    get: ({ set }) => set.distanceErrorM,
    describe: 'measured minus nominal',
  }),
  column({
    name: 'height_error_m',
    kind: 'number',
    unit: 'm',
    get: ({ set }) => set.heightErrorM,
    describe: 'measured minus nominal',
  }),
  column({
    name: 'distance_limit_m',
    kind: 'number',
    unit: 'm',
    get: ({ screen }) => screen.distanceLimitM,
    describe: 'limits of the screen',
  }),
  column({
    name: 'height_limit_m',
    kind: 'number',
    unit: 'm',
    get: ({ screen }) => screen.heightLimitM,
    describe: 'limits of the screen',
  }),
  column({
    name: 'verdict',
    kind: 'word',
    get: ({ set }) => (set.passes ? 'within' : 'no'),
    describe: '`within` or `no`',
  }),
];

/** The sets of the screen as rows. */
function isoRecords({ screen }: IsoResult): readonly WrittenRecord[] {
  const cellsOf = createCellTexts(ISO_COLUMNS);
  return screen.sets.map((set) => ({ cells: cellsOf({ set, screen }), geometry: { kind: 'lines', lines: [] } }));
}

/** What the procedure lets one say. */
function isoStatements(result: IsoResult): readonly StandardStatement[] {
  const mm = (metres: number): string => `${formatFixed(metres * 1000, 2)} mm`;
  const { distanceM } = result.nominal;
  const isApart = distanceM >= ISO_LEAST_DISTANCE_M && distanceM <= ISO_MOST_DISTANCE_M;
  const failed = result.screen.sets.filter((set) => !set.passes);
  const statements: StandardStatement[] = [
    failed.length === 0
      ? {
          what: 'gross-error screen',
          text: `all ${String(result.screen.sets.length)} sets within ${mm(result.screen.distanceLimitM)} in distance and ${mm(result.screen.heightLimitM)} in height`,
          verdict: 'within',
        }
      : {
          what: 'gross-error screen',
          text: `${failed.map((set) => `series ${String(set.series)} set ${String(set.set)}`).join(', ')} beyond ${mm(result.screen.distanceLimitM)} in distance or ${mm(result.screen.heightLimitM)} in height: find the cause and repeat the series`,
          verdict: 'exceeds',
        },
  ];
  if (!isApart)
    statements.push({
      what: 'distance of the rover points',
      text: `${formatFixed(distanceM, 3)} m; the procedure is for ${String(ISO_LEAST_DISTANCE_M)} m to ${String(ISO_MOST_DISTANCE_M)} m, and for others cannot be stated`,
      verdict: 'not-stated',
    });
  if (result.setsMissing > 0)
    statements.push({
      what: 'standard deviations',
      text: `cannot be stated by the simplified procedure; the full one needs ${String(result.setsMissing)} more sets`,
      verdict: 'information',
    });
  if (result.precision !== null) {
    const { sigmaXyM, sigmaHeightM, degreesXy, degreesHeight } = result.precision;
    statements.push({
      what: 'standard deviations',
      text: `s_xy ${mm(sigmaXyM)} (${String(degreesXy)} degrees of freedom), s_h ${mm(sigmaHeightM)} (${String(degreesHeight)})`,
      verdict: 'information',
    });
  }
  for (const test of result.tests) {
    const isRatio = test.low !== null;
    const limits = isRatio
      ? `${formatFixed(test.low ?? 0, 3)} to ${formatFixed(test.high, 3)}`
      : `at most ${mm(test.high)}`;
    statements.push({
      what: test.what,
      text: `${isRatio ? formatFixed(test.value, 3) : mm(test.value)}, ${limits} (95 %)`,
      verdict: test.passes ? 'within' : 'exceeds',
    });
  }
  return statements;
}
