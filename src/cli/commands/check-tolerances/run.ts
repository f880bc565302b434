import { pushAll } from '../../../core/numeric/push-all.js';
import { STANDARDS } from '../../../core/quality/standards/standards.js';
import type { PointInput } from '../../../io/tables/points/points-read.js';
import { failure } from '../../../records/outcome.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { RecordList } from '../../../records/record-list.js';
import type { CheckResults } from '../../../tasks/check/check-report.js';
import type { CheckRow, CheckSetup } from '../../../tasks/check/judge/check-tolerances-setup.js';
import { checkControl } from '../../../tasks/check/compare/check-tolerances-control.js';
import { checkCoverage } from '../../../tasks/check/compare/check-tolerances-coverage.js';
import { checkDesign, checkLine } from '../../../tasks/check/compare/check-tolerances-design.js';
import { dayOfCheck, dayToApply } from '../../../tasks/reduce/day-of-check.js';
import type { DayOfCheck } from '../../../tasks/reduce/day-of-check.js';
import { inputDoubts } from '../../../tasks/check/judge/check-tolerances-input-verdict.js';
import { checkRepeats } from '../../../tasks/check/compare/check-tolerances-repeats.js';
import { standardStatements } from '../../../tasks/check/judge/check-tolerances-standard.js';
import type { StandardStatement } from '../../../tasks/check/judge/check-tolerances-standard-statement.js';
import { controlSummary } from '../../../tasks/check/check-tolerances-summary.js';
import { anyOf, joinedList, listWhere } from '../../../tasks/reduce/record-search.js';
import { settling } from './settling.js';
import { causeLines, repeatLines } from './say/check-cause-text.js';
import { pointVerdictLines } from './say/check-points-text.js';
import { misclosureLines } from './say/check-verdict-text.js';
import { checkTable, summaryLines } from './say/check-table.js';
import { flagOption, numberOption, textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { openPoints } from '../../../files/points/open-points.js';
import { collectPackedPoints } from '../../inputs/collect-points.js';
import { isEstimated } from '../reduce-points/options/held-options.js';
import { createRejects } from '../../outputs/rejects.js';
import { endWith, rowsAnswer } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { tableOptions } from '../../inputs/table-options.js';
import type { TableOptions } from '../../inputs/table-options.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { checkConflicts } from './check-tolerances-conflicts.js';
import { countFixes, fixLines } from './check-tolerances-fixes.js';
import type { FixCounts } from './check-tolerances-fixes.js';
import { otherAxes, otherTables, unknownColumnLines } from './check-inputs.js';
import { finishChecks } from './finish-checks.js';
import { runIso } from './iso-run.js';
import { checkAxes, loadCheck } from './check-tolerances-load.js';
import { openCheckPlaces } from './check-tolerances-places.js';
import { loadRules, sayStandard, standardNamed, standardsText } from './check-tolerances-rules.js';

/** Control, repeats, design, standards; see `checkTolerancesSpec`. */
export const runCheckTolerances: CommandRun = (invocation, context) => {
  const files = textsGiven(invocation, ['session', 'control', 'design', 'fixes', 'limits', 'campaign']);
  const log = createRunLog(invocation, context);
  return withWorkbench(
    invocation,
    context,
    inputPaths([...invocation.args, ...files], context.cwd),
    (bench) => check(bench, log),
    log.failure,
  );
};

async function check(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation } = bench;
  if (textOption(invocation, 'standard') === 'list') {
    const sink = await bench.open(textOption(invocation, 'output') ?? '-');
    await sink.write(standardsText());
    return endWith(rowsAnswer(STANDARDS.length, 0), invocation, log);
  }
  const standard = bench.take(standardNamed(textOption(invocation, 'standard')));
  bench.take(checkConflicts(invocation, standard));
  const tables = bench.take(tableOptions(invocation, {}));
  if (standard !== null) sayStandard(standard, bench, log);
  if (standard?.kind === 'iso-17123-8') return runIso(bench, log, tables, standard);
  const { setup: loaded, resolved } = await loadCheck(bench, log);
  const wrongFrame =
    loaded.grid !== null && (bench.format === 'geojson' || textOption(invocation, 'vectors') !== null)
      ? geojsonFrameProblem(loaded.grid.base)
      : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  const rules = await loadRules(bench, log, standard, resolved.session.tolerance);
  const { limits } = rules;
  const places = await openCheckPlaces(bench);

  const lines: string[] = [...rules.lines];
  const found: RecordList<CheckRow>[] = [];
  const rows = joinedList(found);
  const statements: StandardStatement[] = [];
  let fixes: FixCounts | null = null;
  const fixesPath = textOption(invocation, 'fixes');
  if (fixesPath !== null) {
    fixes = await countFixes(fixesPath, bench, log, loaded, resolved, tables, standard?.acceptance ?? null);
    pushAll(lines, fixLines(fixes));
  }
  let axes = checkAxes(loaded.grid, null);
  let skipped = 0;
  let applied: DayOfCheck | null = null;
  let said: DayOfCheck = { day: null, search: null, usesControl: false };
  let summary: CheckResults['summary'] = null;
  let search: CheckResults['search'] = null;
  let groups: CheckResults['groups'] = [];
  let classed: RecordList<PointRow> = [];
  let doubts: CheckResults['inputDoubts'] = { rejected: 0, review: 0 };
  if (invocation.args.length > 0) {
    const rejectsPath = textOption(invocation, 'rejects');
    const rejects = createRejects(
      rejectsPath === null ? null : await bench.open(rejectsPath),
      tables.dialect.delimiter,
    );
    const read = async (
      path: string,
      kind: string,
      own: TableOptions,
      isMain: boolean,
    ): Promise<{ readonly points: RecordList<PointRow>; readonly input: PointInput; readonly name: string }> => {
      const opened = bench.take(
        await openPoints(
          path,
          isMain ? 0 : 1,
          { tables: own, grid: loaded.grid, needs: { position: isMain ? 'any' : 'none', height: 'none' } },
          bench.context,
        ),
      );
      const collected = await collectPackedPoints(opened, bench, own.onError, isMain ? rejects : null);
      skipped += collected.rejected;
      log.input(opened.source, kind, collected.points.length, collected.rejected);
      return { points: collected.points, input: opened.input, name: opened.source.name };
    };
    const main = await read(invocation.args[0] ?? '-', 'points', tables, true);
    axes = checkAxes(loaded.grid, main.input.axes);
    const rulesFor = (use: 'control' | 'repeats' | 'design'): CheckSetup['controlRules'] =>
      limits.filter(({ uses }) => uses.includes(use)).map(({ rule }) => rule);
    const stated: CheckSetup = {
      ...loaded,
      tilts: fixes?.tilts ?? loaded.tilts,
      axes,
      controlRules: rulesFor('control'),
      repeatRules: rulesFor('repeats'),
      designRules: rulesFor('design'),
      day: null,
    };
    pushAll(lines, pointVerdictLines(main.points));
    doubts = inputDoubts(main.points);
    const readOther = (path: string, kind: 'control' | 'design'): ReturnType<typeof read> =>
      read(path, kind, otherTables(bench, kind), false);
    const cover = (
      kind: CheckRow['check'],
      rules: CheckSetup['controlRules'],
      other: Awaited<ReturnType<typeof read>>,
    ): void => {
      const { line, statements: lacking } = checkCoverage(rows, kind, rules);
      if (line !== null)
        pushAll(lines, [
          line,
          ...unknownColumnLines(other.input, other.name, kind === 'control' ? 'control' : 'design'),
        ]);
      pushAll(statements, lacking);
    };
    const sameAxes = (input: PointInput, name: string): void => {
      const other = loaded.grid === null ? otherAxes(main, input, name) : null;
      if (other !== null) bench.take(failure(other));
    };

    const controlPath = textOption(invocation, 'control');
    const control = controlPath === null ? null : await readOther(controlPath, 'control');
    if (control !== null) sameAxes(control.input, control.name);
    if (isEstimated(invocation))
      applied = dayToApply(
        main.points,
        control?.points ?? null,
        flagOption(invocation, 'repeats') ? { samePlaceM: numberOption(invocation, 'samePlace') } : null,
        stated,
      );
    const setup: CheckSetup = { ...stated, day: applied?.day?.isApplied === true ? applied.day : null };
    const settle = settling(bench);
    let checkPoints = 0;
    if (control !== null) {
      const result = bench.take(checkControl(main.points, control.points, control.name, setup, settle));
      found.push(result.rows);
      ({ checkPoints } = result);
      lines.push(
        `control: ${counted(result.rows.length, 'check')} on ${counted(checkPoints, 'point')}${result.fitOnly > 0 ? `; ${String(result.fitOnly)} on control of role fit do not count` : ''}; ${counted(result.unmatched, 'point')} not in the control`,
      );
      cover('control', setup.controlRules, control);
      if (anyOf(control.points, ({ role }) => role === 'both'))
        lines.push('  control of role both counts here and is not independent of a fit that used it');
    }
    if (flagOption(invocation, 'repeats')) {
      const result = bench.take(
        checkRepeats(main.points, numberOption(invocation, 'samePlace'), main.name, setup, settle),
      );
      found.push(result.rows);
      ({ groups } = result);
      pushAll(lines, [
        `repeats: ${counted(result.rows.length, 'comparison')} at ${counted(result.groups.length, 'point')}; ${String(result.single)} occupied once`,
        ...repeatLines(result.groups),
        ...misclosureLines(result.misclosures),
      ]);
    }
    const designPath = textOption(invocation, 'design');
    if (designPath !== null) {
      const design = await readOther(designPath, 'design');
      sameAxes(design.input, design.name);
      const result = bench.take(
        flagOption(invocation, 'line')
          ? checkLine(main.points, design.points, design.name, setup, settle)
          : checkDesign(main.points, design.points, design.name, setup, settle),
      );
      found.push(result.rows);
      lines.push(
        `design: ${counted(result.rows.length, 'point')} compared${result.missing.length > 0 ? `; not measured: ${result.missing.slice(0, 8).join(', ')}${result.missing.length > 8 ? ', …' : ''}` : ''}`,
      );
      cover(flagOption(invocation, 'line') ? 'line' : 'design', setup.designRules, design);
    }
    summary = controlPath === null ? null : controlSummary(rows, setup);
    classed = listWhere(main.points, ({ verdict }) => verdict !== 'rejected');
    if (standard !== null)
      pushAll(statements, standardStatements(standard, classed, summary, checkPoints, fixesPath !== null));
    if (rows.length > 0) pushAll(lines, checkTable(rows, axes));
    if (summary !== null) pushAll(lines, summaryLines(summary, axes));
    const dayFound = dayOfCheck(rows, groups, setup);
    ({ search } = dayFound);
    said = applied ?? dayFound;
    const anyExceeds = anyOf(rows, (row) => row.check === 'control' && row.verdict === 'exceeds');
    if (search !== null && (search.report.isDisturbed || anyExceeds)) pushAll(lines, causeLines(search, anyExceeds));
  }
  for (const statement of statements) lines.push(`${statement.what}: ${statement.text}`);
  if (skipped > 0) lines.push(`${String(skipped)} rows with errors were left out on request`);

  return finishChecks(bench, log, {
    places,
    loaded,
    resolved,
    standard,
    axes,
    rows,
    classed,
    statements,
    lines,
    said,
    isApplied: applied !== null,
    summary,
    search,
    groups,
    doubts,
    fixes,
    skipped,
  });
}

function counted(count: number, word: string): string {
  return `${String(count)} ${word}${count === 1 ? '' : 's'}`;
}
