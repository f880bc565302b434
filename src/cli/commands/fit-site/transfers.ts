import { readSideTable } from '../../../files/tables/side-table.js';
import { LEVELLING_CLASS_MM } from '../../../core/heights/height-transfer.js';
import { gravestAnswer } from '../../../core/quality/gravest-answer.js';
import { readLines } from '../../../io/tables/network/lines-read.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cells/cell-text.js';
import { failure } from '../../../records/outcome.js';
import { present } from '../../../records/present.js';
import { errorProblem } from '../../../records/problem.js';
import type { SiteTransfers } from '../../../records/reports/site-report.js';
import type { BaseSettings } from '../../../records/session.js';
import type { MeasuredPoint } from '../../../tasks/site/control/pair-control.js';
import type { SiteRun } from '../../../tasks/site/run-site.js';
import { sharedBases } from '../../../tasks/site/control/shared-base.js';
import { benchmarkTransfers, levelledTransfers } from '../../../tasks/site/surface/height-transfers.js';
import type { TestedTransfer } from '../../../tasks/site/surface/height-transfers.js';
import { TRANSFER_COLUMNS } from './transfer-columns.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { recordsText } from '../../outputs/record-writer.js';
import { flagOf, isGiven, numberOption, textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';

/** What the points of a site were measured with. */
interface Measured {
  readonly points: readonly MeasuredPoint[];
  readonly bases: readonly BaseSettings[];
}

/** A fitted site, and the heights carried over it; null: none were asked for. */
export interface RunWithTransfers extends SiteRun {
  readonly transfers: SiteTransfers | null;
}

/**
 * The heights that --transfers and --levelled ask to be carried: tests them, writes the table, says what came of it.
 * Returned: the run with its answer as the levelled lines leave it. Problems: usage-invalid without a surface.
 */
export async function withTransfers(
  run: SiteRun,
  measured: Measured,
  bench: Workbench,
  log: RunLog,
): Promise<RunWithTransfers> {
  const { invocation, context } = bench;
  const asked = (['transfers', 'levelled', 'levellingClass'] as const).find((name) => isGiven(invocation, name));
  if (asked === undefined) return { ...run, transfers: null };
  const { vertical } = run.fitted;
  if (vertical?.kind !== 'surface')
    bench.take(
      failure(
        errorProblem('usage-invalid', {
          message: `${flagOf(asked)} needs a surface of heights, which says how the geoid correlates`,
          hint: 'give --vertical surface with it',
        }),
      ),
    );
  if (vertical?.kind !== 'surface') return { ...run, transfers: null };
  const sharedOf = sharedBases(measured.bases);
  const setup = {
    surface: vertical.surface,
    heightKind: present(run.site.heightKind, 'heightKind'),
    sourceAxes: run.site.sourceAxes,
    sharedOf: ({ row }: MeasuredPoint) => sharedOf(row),
    classMm: classOption(bench),
  };
  const ofBenchmarks = benchmarkTransfers(run.pairs, setup);
  const path = textOption(invocation, 'levelled');
  let levelled: readonly TestedTransfer[] = [];
  if (path !== null) {
    const lines = bench.take(await readSideTable(path, (table) => readLines(table, 2, 'levelled'), context));
    levelled = bench.take(levelledTransfers(lines.rows, measured.points, setup, lines.source.name));
    log.input(lines.source, 'levelled', lines.rows.length, 0);
  }
  for (const line of transferLines(ofBenchmarks, levelled, setup.classMm)) bench.diagnostics.say(line);
  await writeTransfers([...ofBenchmarks, ...levelled], bench);
  const answer = gravestAnswer([
    run.answer.answer,
    ...(levelled.some((row) => row.answer === 'no') ? (['no'] as const) : []),
  ]);
  const transfers = { classMm: setup.classMm, rows: [...ofBenchmarks, ...levelled] };
  return { ...run, answer: { ...run.answer, answer }, transfers };
}

function classOption(bench: Workbench): number {
  const given = numberOption(bench.invocation, 'levellingClass') ?? LEVELLING_CLASS_MM;
  if (!(given > 0 && given <= 1000))
    bench.take(
      failure(
        errorProblem('usage-invalid', {
          message: `--levelling-class ${given} is no class`,
          received: String(given),
          expected: 'millimetres for a kilometre, above 0 to 1000',
        }),
      ),
    );
  return given;
}

async function writeTransfers(rows: readonly TestedTransfer[], bench: Workbench): Promise<void> {
  const path = textOption(bench.invocation, 'transfers');
  if (path === null) return;
  const cellsOf = createCellTexts(TRANSFER_COLUMNS);
  const head = { schema: 'pegbook-height-transfers', list: 'transfers', members: {}, summary: null };
  const records = rows.map((row) => ({ cells: cellsOf(row), geometry: { kind: 'lines', lines: [] } as const }));
  const text = recordsText('csv', cellColumns(TRANSFER_COLUMNS), records, head, csvWriteOptions(bench.invocation));
  await (await bench.open(path)).write(text);
}

function transferLines(
  benchmarks: readonly TestedTransfer[],
  levelled: readonly TestedTransfer[],
  classMm: number,
): readonly string[] {
  return [['between two benchmarks', benchmarks] as const, ['along levelled lines', levelled] as const].flatMap(
    ([where, rows]) => {
      if (rows.length === 0) return [];
      const within = rows.filter(({ isWithinClass }) => isWithinClass).length;
      const off = rows.filter(({ answer }) => answer === 'no');
      return [
        `heights carried ${where}: ${String(within)} of ${String(rows.length)} within ${String(classMm)} mm √km${
          off.length === 0
            ? ', none beyond its sigma'
            : `, beyond their sigma: ${off
                .map(({ fromId, toId }) => `${fromId}–${toId}`)
                .slice(0, 5)
                .join(', ')}${off.length > 5 ? ` and ${String(off.length - 5)} more` : ''}`
        }`,
      ];
    },
  );
}
