import { carriedNames, renamedColumnNotes } from '../../io/carried-names.js';
import type { RawOf } from '../../io/fixes-read.js';
import { failure, failureOf } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { pointColumns } from '../../records/point-columns.js';
import type { ReducedPoint } from '../../records/reduced-point.js';
import { baseShiftProblems } from '../../tasks/base-doubts.js';
import { dayLines, dayOfRepeats, dayUnchanged } from '../../tasks/day-of-repeats.js';
import { finishHeld } from '../../tasks/held-points.js';
import type { FinishedPoints } from '../../tasks/held-points.js';
import { createRepeatKeeper } from '../../tasks/repeat-keeper.js';
import { missingOccupation } from '../../tasks/missing-occupation.js';
import { createOccupationCounter } from '../../tasks/occupation-counter.js';
import { createRunDoubts } from '../../tasks/run-doubts.js';
import { createReducer } from '../../tasks/reduce-points.js';
import { reductionAnswer } from '../../tasks/reduction-answer.js';
import { createReductionTotals } from '../../tasks/reduction-totals.js';
import type { ReducedOccupation } from '../../tasks/reduction-working.js';
import { flagOption, textOption } from '../command-spec.js';
import type { CommandRun, Invocation } from '../command-spec.js';
import type { Context } from '../context.js';
import { createEpochsWriter } from '../epochs-writer.js';
import { openFixes } from '../../files/open-fixes.js';
import type { FixInputKind } from '../../files/open-fixes.js';
import { phaseCentreMissing } from '../../files/phase-centre-missing.js';
import { inputPaths } from '../input-paths.js';
import { openOccupations } from '../reduce/open-occupations.js';
import { overruledOptions } from '../reduce/overruled-options.js';
import { geojsonFrameProblem } from '../geojson-frame.js';
import { createPointsWriter, pointsFrame } from '../../files/points-writer.js';
import { csvWriteOptions } from '../csv-write-options.js';
import { reductionInputs } from '../reduce/fix-settings.js';
import { blocksInOrder, isApart } from '../reduce/open-block-stage.js';
import { explainTarget, writeExplained } from '../reduce/explain-target.js';
import { heldOptions } from '../reduce/held-options.js';
import { explainedInDispute, markDisputed } from '../reduce/mark-disputed.js';
import { openOutputs } from '../reduce/reduction-outputs.js';
import { rejectLate } from '../reduce/reject-late.js';
import type { LateRefusal } from '../reduce/reject-late.js';
import { passThroughNames, remapping } from '../reduce/pass-through.js';
import { rowShare } from '../reduce/row-share.js';
import { createRejects } from '../rejects.js';
import { writtenNames } from '../../files/written-names.js';
import { endWith } from '../run-end.js';
import { createRunLog } from '../run-log.js';
import { resolveSession } from '../session-settings.js';
import { StopError } from '../stop.js';
import { tableOptions } from '../table-options.js';
import { withWorkbench } from '../workbench.js';
import type { Workbench } from '../workbench.js';
import { loadReductionSetup } from '../../files/load-reduction-setup.js';
import { shiftMethod, shiftNotes } from './reduction-shift-notes.js';
import { baseNotes } from './reduction-base-notes.js';
import { tiltAzimuthUnstated } from './reduction-rover-check.js';
import { reductionSummary } from './reduction-summary.js';
import { repeatWarnings } from './repeat-summary.js';

/** Fixes are reduced so many at a time, and what they gave is written once it fills this many bytes. */
const BATCH = 500;
const FULL = 1 << 18;

/** The main job; see `reducePointsSpec`. */
export const runReducePoints: CommandRun = (invocation, context) => {
  const sidecars = ['session', 'occupations'].flatMap((name) => textOption(invocation, name) ?? []);
  const inputs = inputPaths([...invocation.args, ...sidecars], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => reduce(bench, log), log.failure);
};

async function reduce(bench: Workbench, log: ReturnType<typeof createRunLog>): ReturnType<Parameters<typeof withWorkbench>[3]> {
  const { invocation, context, diagnostics } = bench;
  const paths = inputNames(invocation, context);
  const share = bench.take(rowShare(invocation, paths.length));
  const asked = bench.take(heldOptions(invocation));
  const resolved = bench.take(await resolveSession(invocation, context));
  log.session(resolved);
  const tables = bench.take(tableOptions(invocation, resolved.session.columns));
  const occupations = bench.take(await openOccupations(invocation, context));
  if (occupations !== null) log.input(occupations.source, 'occupations', occupations.intervals.length, 0);
  const offsetMissing = phaseCentreMissing(resolved.session, paths, textOption(invocation, 'input') as FixInputKind | null);
  if (offsetMissing !== null) bench.take(failure(offsetMissing));
  const setup = bench.take(await loadReductionSetup(resolved, paths.map((path) => (path === '-' ? 'stdin' : path))));
  const shifted = flagOption(invocation, 'acceptBaseShift') ? [] : baseShiftProblems(setup.bases);
  if (shifted.length > 0) bench.take(failureOf(shifted));
  log.models(setup);
  for (const [key, origin] of Object.entries(resolved.origins)) diagnostics.detail(`pegbook: ${key} from ${origin}`);
  const method = shiftMethod(setup);
  if (method !== null) log.method(method);
  if (setup.shift?.file != null) log.model('grid', { role: 'shift', name: setup.shift.file.name, definition: null, sha256: setup.shift.file.sha256 });
  const wrongFrame = bench.format === 'geojson' ? geojsonFrameProblem(setup.shift === null ? setup.fixesSystem : setup.grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));

  const outputs = await openOutputs(bench);
  const reportPath = textOption(invocation, 'report');
  const page = reportPath === null ? null : await (await import('./reduction-report.js')).openReductionReport(reportPath, bench, setup, resolved, log);
  const { settings, withoutEpochs } = bench.take(reductionInputs(invocation, paths, tables, occupations?.intervals ?? null, setup));
  const { first, names } = await passThroughNames(paths, settings, bench);
  const gridPair = [setup.grid.axes[0].columnName, setup.grid.axes[1].columnName] as const;
  const csv = csvWriteOptions(invocation);
  const carried = carriedNames(writtenNames(bench.format, pointColumns(gridPair).map((name) => ({ name }))), names);
  diagnostics.report(renamedColumnNotes(carried));
  const writer = createPointsWriter(bench.format, gridPair, carried.names, pointsFrame(setup, resolved.session.system?.epochYear ?? null), csv);
  const epochsWriter = createEpochsWriter(setup.sources, csv);
  const rejects = createRejects(outputs.rejects, tables.dialect.delimiter);
  const totals = createReductionTotals();
  const counter = createOccupationCounter();
  const explain = explainTarget(invocation);
  const isHeld = asked.isCombined || asked.isEstimated;
  const keeper = createRepeatKeeper(setup);
  const kept: ReducedPoint[] = [];
  const explained: ReducedOccupation[] = [];
  let epochText = '';
  let failed = false;
  let late: LateRefusal[] = [];
  const remaps: (readonly number[] | null)[] = [];
  let recent: RawOf[] = [];

  const doubts = createRunDoubts(setup);

  const keep = (point: ReducedPoint): void => {
    if (isHeld) {
      kept.push(point);
      return;
    }
    keeper.add(point);
    totals.addPoint(point);
    page?.addPoint(point);
    if (outputs.points !== null) writer.add(point);
  };
  const reducer = createReducer(setup, {
    onPoint(reduced) {
      totals.addOccupation(reduced);
      page?.addOccupation(reduced);
      if (outputs.epochs !== null) epochText += epochsWriter.occupation(reduced);
      if (explain !== null && explain.pointId === reduced.point.pointId && (explain.occupation === null || explain.occupation === reduced.point.occupation)) explained.push(reduced);
      doubts.add(reduced);
      const remap = remaps[reduced.point.place.sourceIndex] ?? null;
      keep(remap === null ? reduced.point : { ...reduced.point, passThrough: remap.map((index) => (index < 0 ? '' : (reduced.point.passThrough[index] ?? ''))) });
    },
    onProblems(problems, fixes) {
      // A row refused by itself may stand in another part; of the occupations only our own were reduced.
      const first = fixes.at(0);
      if (share !== null && first !== undefined && !share.holds(first)) return;
      diagnostics.report(problems);
      if (fixes.length > 0) {
        failed = true;
        late.push({ fixes, problems });
      }
    },
    onPassed: doubts.passed,
  }, counter, share?.owns);

  let writing: Promise<void> = Promise.resolve();
  /** Writes what is ready while the next is made: `take` leaves the last piece untouched that long. */
  const flush = async (least: number): Promise<void> => {
    if (writer.size() > least && outputs.points !== null) {
      await writing;
      writing = outputs.points.write(writer.take());
    }
    if (epochText.length > least && outputs.epochs !== null) await outputs.epochs.write(epochText);
    if (epochText.length > least) epochText = '';
  };

  const hasHeader = !flagOption(invocation, 'omitHeader') || bench.format !== 'csv';
  if (hasHeader) await outputs.points?.write(writer.begin());
  if (!flagOption(invocation, 'omitHeader')) await outputs.epochs?.write(epochsWriter.begin());
  const seen = new Map<string, string>();
  for (const [sourceIndex, path] of paths.entries()) {
    const opened = sourceIndex === 0 && first !== null ? first : bench.take(await openFixes(path, sourceIndex, settings, context));
    diagnostics.report(overruledOptions(opened, invocation));
    await rejects.start(flagOption(invocation, 'omitHeader') ? null : opened.input.headerRaw);
    let rows = 0;
    let bad = 0;
    remaps[sourceIndex] = remapping(opened, names);
    const { points } = outputs;
    const stage = points === null || share !== null || !isApart(bench, paths.length) ? null : { bench, resolved, setup, columns: [...pointColumns(gridPair), ...carried.names], csv, points, counter, keeper, totals, onRows: (count: number) => bench.progress.update(`${opened.source.name}: ${(rows += count)} rows`) };
    for await (const item of share === null ? await blocksInOrder(opened, stage) : share.blocks(opened)) {
      bench.breathe();
      const taken = bench.take(item);
      const block = share === null ? taken : share.own(taken);
      rows += block.fixes.length + block.rejected.length;
      diagnostics.report(block.warnings);
      for (const row of block.rejected) diagnostics.report(row.problems);
      if (block.rejected.length > 0) {
        failed = true;
        bad += block.rejected.length;
        await rejects.add(block.rejected);
      }
      if (rejects.isAsked && recent.at(-1) !== block.rawOf) recent.push(block.rawOf);
      for (let i = 0; i < block.fixes.length; i += BATCH) {
        reducer.push(block.fixes.length <= BATCH ? block.fixes : block.fixes.slice(i, i + BATCH));
        await flush(FULL);
      }
      bad += await rejectLate(late, recent, rejects);
      late = [];
      // Rows may still be refused as far back as the occupation begins that has not ended.
      const open = reducer.firstOpen();
      if (open === null) recent = [];
      else if (rejects.isAsked && block.fixes.includes(open)) recent = [block.rawOf];
      bench.progress.update(`${opened.source.name}: ${rows} rows`);
    }
    if (share !== null) rows = share.rows();
    const { sha256 } = opened.source.digest();
    const twin = seen.get(sha256);
    if (twin !== undefined) throw new StopError([errorProblem('input-repeated', { message: `${opened.source.name} has the same bytes as ${twin}`, where: { source: opened.source.name }, hint: 'name each file once: its epochs would count twice' })]);
    seen.set(sha256, opened.source.name);
    log.input(opened.source, opened.kind, rows - bad, bad, share === null ? null : bench.take(share.part()));
  }
  reducer.finish();
  await rejectLate(late, recent, rejects);
  if (failed && tables.onError === 'stop') throw new StopError([]);

  for (const interval of withoutEpochs()) keep(missingOccupation(interval, counter, carried.names.length));
  diagnostics.report(doubts.problems(totals));
  let finished: Omit<FinishedPoints, 'points'> | null = null;
  if (isHeld) {
    const { points, ...rest } = finishHeld(kept, setup, asked);
    finished = rest;
    for (const point of points) {
      totals.addPoint(point);
      page?.addPoint(point);
      if (outputs.points === null) continue;
      writer.add(point);
      await flush(FULL);
    }
  } else if (share === null) {
    const { repeats, disputed } = keeper.compare();
    finished = { repeats, disputed, pairs: null, day: dayOfRepeats(repeats), revised: new Map() };
    totals.addDisputed(disputed);
  }
  const repeats = finished?.repeats ?? [];
  const day = finished?.day ?? null;
  if (!asked.isCombined) diagnostics.report(repeatWarnings(repeats));
  log.day(day);
  log.repeats(share === null);
  await flush(0);
  await writing;
  await outputs.points?.write(writer.end());
  const disputed = finished?.disputed ?? [];
  if (!isHeld) await markDisputed(disputed, outputs.points, { format: bench.format, verdictColumn: pointColumns(gridPair).indexOf('verdict'), hasHeader });
  if (explain !== null) await writeExplained(explained.map((reduced) => explainedInDispute(reduced, disputed)), explain, setup, outputs.explain, bench);

  const unstated = tiltAzimuthUnstated(resolved.session, totals);
  if (unstated !== null) diagnostics.report([unstated]);
  const skipped = rejects.count();
  const answer = reductionAnswer(totals, skipped, repeats, share !== null);
  const notes = skipped === 0 ? [] : [`${skipped} ${skipped === 1 ? 'row with errors was' : 'rows with errors were'} left out on request`];
  const { precision } = resolved.session;
  const daySaid = dayLines(day, precision, '--variance-factor estimated counts it');
  const unchanged = asked.isEstimated ? dayUnchanged(day, precision) : null;
  if (unchanged !== null) notes.push(unchanged);
  for (const line of daySaid) diagnostics.say(line);
  for (const line of reductionSummary(totals, repeats, [...baseNotes(setup, totals), ...shiftNotes(setup, totals), ...notes])) diagnostics.say(line);
  diagnostics.say(`verdict: ${answer.answer}`);
  await page?.write({ totals, pairs: finished?.pairs ?? null, repeats: finished?.repeats ?? null, day: daySaid, revised: finished?.revised ?? new Map(), disputed, answer: answer.answer, rowsSkipped: skipped });
  return endWith(answer, invocation, log);
}

/** The inputs named; standard input only when it is named or piped in and nothing else is. */
function inputNames(invocation: Invocation, context: Context): readonly string[] {
  if (invocation.args.length > 0) return invocation.args;
  if (context.stdin.isTTY === true) {
    throw new StopError([errorProblem('usage-invalid', { message: 'no input is named', hint: 'pegbook reduce-points FILE --session FILE; pegbook help reduce-points shows more' })]);
  }
  return ['-'];
}
