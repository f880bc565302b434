import { extname, resolve } from 'node:path';
import type { SiteAxes } from '../../../core/adjustment/site-axes.js';
import type { SiteInput } from '../../../core/adjustment/site-document.js';
import type { OutputFormat } from '../../../files/points/points-writer.js';
import { siteText } from '../../../io/documents/site-write.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem, locateProblem, warningProblem } from '../../../records/problem.js';
import { fitSite } from '../../../tasks/site/fit-site.js';
import { judgeSite, withoutConclusions } from '../../../tasks/site/judge-site.js';
import { pairControl } from '../../../tasks/site/pair-control.js';
import { BUFFER_PART, siteDocumentOf, siteTransformOf } from '../../../tasks/site/site-document-of.js';
import { siteStatements } from '../../../tasks/site/site-statements.js';
import { flagOption, isGiven, textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun, Invocation, OptionName } from '../../shell/command-spec.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { recordsText } from '../../outputs/record-writer.js';
import type { WrittenRecord } from '../../outputs/record-writer.js';
import { createRejects } from '../../outputs/rejects.js';
import { endWith } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cell-text.js';
import type { SiteResidualRow } from '../../../records/reports/site-fit.js';
import { residualColumns } from './site-columns.js';
import { limitOptions, scaleOption, siteAxesOption } from './site-settings.js';
import { siteSummary } from './site-summary.js';
import { loadStations } from '../../inputs/station-load.js';
import { StopError } from '../../shell/stop.js';
import { tableOptions } from '../../inputs/table-options.js';
import { sharedBases } from '../../../tasks/site/shared-base.js';
import type { ProblemCode } from '../../../records/problem-codes.js';
import { siteAnswer } from '../../../tasks/site/site-answer.js';
import { VERSION } from '../../../records/version.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { loadControl } from './fit-site-control.js';

/** Fits a site; see `fitSiteSpec`. */
export const runFitSite: CommandRun = (invocation, context) => {
  const sidecars = textsGiven(invocation, ['session', 'geoid', 'control']);
  const inputs = [...invocation.args.filter((path) => path !== '-'), ...sidecars].map((path) =>
    resolve(context.cwd, path),
  );
  const log = createRunLog(invocation, context);
  // The site file is JSON by its name; messages are JSON only when that is asked for in words.
  const format = formatOf(invocation);
  const spoken: Invocation = {
    ...invocation,
    options: { ...invocation.options, format: textOption(invocation, 'format') ?? 'csv' },
  };
  return withWorkbench(spoken, context, inputs, (bench) => fit(bench, format, log), log.failure);
};

/** `json` is the site itself; the others are tables of its residuals. */
function formatOf(invocation: Invocation): OutputFormat {
  const given = textOption(invocation, 'format');
  if (given !== null) return given;
  const extension = extname(textOption(invocation, 'output') ?? '').toLowerCase();
  return extension === '.json' ? 'json' : extension === '.geojson' ? 'geojson' : 'csv';
}

async function fit(bench: Workbench, format: OutputFormat, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const controlPath = textOption(invocation, 'control');
  if (controlPath === null)
    throw new StopError([
      errorProblem('config-missing', { message: 'no control is named', hint: 'give --control FILE' }),
    ]);
  const scale = bench.take(scaleOption(invocation));
  const limits = bench.take(limitOptions(invocation));
  const statedAxes = bench.take(siteAxesOption(invocation));
  const tables = bench.take(tableOptions(invocation, {}));
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const loaded = await loadStations(bench, log, tables, rejects);
  const { grid, geoid } = loaded.setup;
  const wrongFrame = format === 'geojson' ? geojsonFrameProblem(grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  const sourceAxes: SiteAxes = {
    columns: [grid.axes[0].columnName, grid.axes[1].columnName],
    metresPerUnit: grid.axes[0].metresPerUnit,
  };
  const siteAxes = statedAxes ?? sourceAxes;
  const control = await loadControl(controlPath, siteAxes, bench, log);
  const heightKind = control.rows.some((row) => row.orthometricHeightM !== null)
    ? 'orthometric'
    : control.rows.some((row) => row.ellipsoidalHeightM !== null)
      ? 'ellipsoidal'
      : null;
  const vertical = textOption(invocation, 'vertical') ?? (heightKind === null ? 'none' : 'plane');
  const measured = loaded.stations.map((station, index) => ({ station, row: loaded.rows[index]! }));
  const pairs = bench.take(
    pairControl(
      control.rows,
      measured,
      {
        grid,
        sourceAxes,
        siteAxes,
        heightKind: vertical === 'none' ? null : heightKind,
        sharedOf: sharedBases(loaded.bases),
      },
      { control: control.name, points: loaded.source },
    ),
  );
  const fitted = bench.take(
    fitSite(pairs, {
      ellipsoid: grid.base.ellipsoid,
      scale,
      vertical,
      allowPoorSpread: flagOption(invocation, 'allowPoorSpread'),
    }),
  );
  const said = siteStatements(fitted, grid);
  if (said.problems.some((problem) => problem.severity === 'error'))
    throw new StopError(said.problems.map((problem) => locateProblem(problem, { source: control.name })));
  diagnostics.report(said.problems);
  const transform = siteTransformOf(fitted);
  const found = judgeSite(fitted, transform, pairs, limits);
  const judged = said.isUnusable ? withoutConclusions(found, fitted.exchange?.cycles.flat() ?? []) : found;
  const bufferM = limits.bufferM ?? BUFFER_PART * fitted.spread.radiusM;
  const inputs: readonly SiteInput[] = [
    { role: 'points', ...loaded.digest },
    { role: 'control', ...control.digest },
  ];
  const site = siteDocumentOf(fitted, transform, judged.rows, said.statements, {
    toolVersion: VERSION,
    title: loaded.title,
    system: loaded.systemText,
    systemName: grid.name,
    sourceAxes,
    siteAxes,
    heightKind,
    geoid: geoid === null ? null : { name: geoid.grid.name, sha256: geoid.grid.sha256 },
    bufferM,
    inputs,
  });
  recordSettings(invocation, log, {
    scale: fitted.horizontal.scaleIsFree ? 'free' : fitted.horizontal.similarity.scale,
    vertical,
    bufferM,
  });

  const columns = residualColumns(siteAxes);
  const rows = residualRecords(judged.rows, columns);
  const head = {
    schema: 'pegbook-site-residuals',
    list: 'residuals',
    members: { system: loaded.systemText, frame: grid.base.code ?? grid.base.name },
  };
  const table = (kind: 'csv' | 'geojson'): string =>
    recordsText(kind, cellColumns(columns), rows, head, csvWriteOptions(invocation));
  // A file of parameters outlives what was said of them: where nothing may be concluded none is written.
  const isWithheld = said.isUnusable && format === 'json';
  if (!isWithheld)
    await (
      await bench.open(textOption(invocation, 'output') ?? '-')
    ).write(format === 'json' ? siteText(site) : table(format));
  const residualsPath = textOption(invocation, 'residuals');
  if (residualsPath !== null) await (await bench.open(residualsPath)).write(table('csv'));

  const suspects = judged.rows.filter((row) => row.verdict === 'suspect');
  diagnostics.report(
    suspects.map((row) =>
      warningProblem(row.reasons[0] ?? 'site-outlier', {
        message: `${row.pointId} ${row.role === 'check' ? 'is off by more than its uncertainty or limit allows' : 'does not fit with the others'}`,
        where: { source: control.name, line: row.control.place.line },
      }),
    ),
  );
  const unchecked =
    said.isUnusable || fitted.horizontal.adjustment.redundancy === 0
      ? []
      : judged.rows.filter((row) => row.reasons.includes('site-unchecked'));
  diagnostics.report(
    unchecked.map((row) =>
      warningProblem('site-unchecked', {
        message: `hardly anything checks ${row.pointId}: a redundancy is below 0.1`,
        where: { source: control.name, line: row.control.place.line },
      }),
    ),
  );
  const strained = [['plan', fitted.horizontalFactor] as const, ['height', fitted.verticalFactor] as const].filter(
    ([, factor]) => factor?.isExceeded === true,
  );
  diagnostics.report(
    strained.map(([what]) =>
      warningProblem('site-suspect', {
        message: `the residuals in ${what} are larger than the stated sigmas allow`,
        hint: 'a blunder, sigmas stated too small, or something other than a site of its own',
      }),
    ),
  );
  for (const line of siteSummary(site, fitted, judged, said)) diagnostics.say(line);
  if (isWithheld) diagnostics.say('no site file is written');
  const run = siteAnswer(judged.rows, {
    isSuspect: strained.length > 0 || said.problems.some(({ code }) => code === 'site-suspect'),
    isDoubtful: ['site-unchecked', 'site-curved'].some((code) => diagnostics.counts.has(code as ProblemCode)),
    rowsSkipped: loaded.rejected,
  });
  diagnostics.say(
    `verdict: ${run.answer}; of ${String(judged.rows.length)} control points ${String(run.verdicts.get('within') ?? 0)} within, ${String(run.verdicts.get('review') ?? 0)} for review, ${String(run.verdicts.get('no') ?? 0)} no`,
  );
  const reportPath = textOption(invocation, 'report');
  if (reportPath !== null)
    await (
      await import('./site-report-write.js')
    ).writeSiteReport(reportPath, site, fitted, judged, run.answer, bench, log);
  return endWith(run, invocation, log);
}

function recordSettings(
  invocation: Invocation,
  log: RunLog,
  used: { readonly scale: string | number; readonly vertical: string; readonly bufferM: number },
): void {
  const from = (name: OptionName): 'command line' | 'default' =>
    isGiven(invocation, name) ? 'command line' : 'default';
  log.setting('site.scale', used.scale, from('scale'));
  log.setting('site.vertical', used.vertical, from('vertical'));
  log.setting('site.buffer_m', used.bufferM, from('buffer'));
  log.method({
    id: 'fit-site',
    name: 'weighted least-squares similarity and height plane',
    source: { key: 'AITKEN-1935', locator: 'docs/methods/site-fit.md' },
  });
}

/** The control points as rows, each where it is. */
function residualRecords(
  rows: readonly SiteResidualRow[],
  columns: ReturnType<typeof residualColumns>,
): readonly WrittenRecord[] {
  const cellsOf = createCellTexts(columns);
  return rows.map((row) => ({
    cells: cellsOf(row),
    geometry: { kind: 'point', place: row, ellipsoidalHeightM: null },
  }));
}
