import { extname, resolve } from 'node:path';
import { operationFrameOf } from '../../core/geodesy/operation-frames.js';
import type { GridSystem } from '../../core/grid/grid-system.js';
import { readCsv } from '../../io/csv-read.js';
import type { CsvTable } from '../../io/csv-read.js';
import { readPlaceRows } from '../../io/place-rows-read.js';
import type { PlaceInput } from '../../io/place-rows-read.js';
import { openSource } from '../../io/source.js';
import type { TrustKept } from '../../io/trust-columns.js';
import type { Source } from '../../io/source.js';
import { failure } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem, locateProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { createPointTransformer, emptyTransformedPoint } from '../../tasks/transform-point.js';
import type { TransformSetup } from '../../tasks/transform-setup.js';
import { createAreaWatch } from '../../tasks/transform-warning.js';
import { flagOption, textOption } from '../command-spec.js';
import type { CommandRun } from '../command-spec.js';
import { geojsonFrameProblem } from '../geojson-frame.js';
import { csvWriteOptions } from '../csv-write-options.js';
import { axisNames } from '../../files/open-points.js';
import { createRejects } from '../rejects.js';
import { createRowWriter } from '../row-writer.js';
import type { WrittenRow } from '../row-writer.js';
import { createRunLog } from '../run-log.js';
import type { RunLog } from '../run-log.js';
import { StopError } from '../stop.js';
import { withoutPlaceLine } from '../without-place-line.js';
import { tableOptions } from '../table-options.js';
import type { TableOptions } from '../table-options.js';
import { notTrustedLine } from '../transform/not-trusted-line.js';
import { ownPlaceCheck } from '../transform/own-place-check.js';
import { transformColumns } from '../transform/transform-columns.js';
import { loadTransform } from '../transform/transform-setup-load.js';
import type { LoadedTransform } from '../transform/transform-setup-load.js';
import { withWorkbench } from '../workbench.js';
import type { RunEnd, Workbench } from '../workbench.js';
import { endWith, rowsAnswer } from '../run-end.js';

/** Carries points to another system; see `transformSpec`. */
export const runTransform: CommandRun = (invocation, context) => {
  const files = [...invocation.args.filter((path) => path !== '-'), ...['shift', 'geoid', 'site'].flatMap((name) => textOption(invocation, name) ?? [])];
  const log = createRunLog(invocation, context);
  const body = textOption(invocation, 'site') === null ? transform : async (bench: Workbench, siteLog: RunLog): Promise<RunEnd> => (await import('./transform-site-run.js')).transformOntoSite(bench, siteLog);
  return withWorkbench(invocation, context, files.map((path) => resolve(context.cwd, path)), (bench) => body(bench, log), log.failure);
};

async function transform(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics } = bench;
  if (flagOption(invocation, 'extrapolate')) bench.take(failure(errorProblem('usage-conflict', { message: '--extrapolate needs --site', hint: 'it lets points lie outside the control of a site' })));
  const dms = textOption(invocation, 'angles') === 'dms';
  if (dms && bench.format === 'geojson') {
    bench.take(failure(errorProblem('usage-conflict', { message: 'GeoJSON holds decimal degrees', hint: 'leave out --angles dms, or write CSV' })));
  }
  const loaded = bench.take(await loadTransform(invocation, context, bench.format === 'geojson'));
  const { setup, from, to, ground } = loaded;
  const wrongFrame = bench.format === 'geojson' ? geojsonFrameProblem(to.geographic) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  recordTransform(loaded, bench, log);
  const tables = bench.take(tableOptions(invocation, {}));
  const path = invocation.args[0] ?? '-';
  const { source, kind, input } = bench.take(await openPlaces(path, loaded, tables, bench));
  const sink = await bench.open(textOption(invocation, 'output') ?? '-');
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const { columns, notes, cells } = transformColumns(setup, input, bench.format, dms);
  diagnostics.report(notes);
  const frame = { frame: to.geographic.code ?? to.geographic.name, epochYear: epochOf(loaded), system: to.topocentric === null ? to.name : `topocentric about ${textOption(invocation, 'topocentricAt') ?? ''}, ${to.name}` };
  const writer = createRowWriter(bench.format, columns, frame, csvWriteOptions(invocation));
  const compare = bench.take(ownPlaceCheck(setup.stepIn !== null || from.topocentric !== null ? null : (from.grid ?? besideGrid(loaded)), from.grid !== null, tables.positionFrom));
  const run = createPointTransformer(setup);
  const watch = createAreaWatch(from.kind === 'projected' && setup.change.kind !== 'plane' && from.name !== to.name ? from : null, to, loaded.watched);
  const point = emptyTransformedPoint();
  const gridIn = { first: 0, second: 0 };
  let count = 0;
  let bad = 0;
  let without = 0;
  await rejects.start(input.headerRaw);
  await sink.write(writer.begin());
  for await (const item of input.blocks()) {
    bench.breathe();
    const block = bench.take(item);
    diagnostics.report(block.warnings);
    for (const row of block.rejected) diagnostics.report(row.problems);
    await rejects.add(block.rejected);
    bad += block.rejected.length;
    without += block.withoutPlace;
    const batch: WrittenRow[] = [];
    for (const row of block.rows) {
      const place = (found: Problem): Problem => located(found, source.name, row.line, row.record, kind);
      const other = compare === null ? null : block.otherPositionOf(row);
      const problem = (other === null || compare === null ? null : compare(row, other)) ?? run(row, point);
      if (problem !== null) {
        const problems = [place(problem)];
        diagnostics.report(problems);
        await rejects.add([{ line: row.line, raw: block.rawOf(row), problems }]);
        bad += 1;
        continue;
      }
      if (point.doubt !== null) diagnostics.report([place(point.doubt)]);
      const warning = watch.check(row.pointId, point);
      if (warning !== null) diagnostics.report([place(warning)]);
      if (ground !== null) {
        if (ground.end === 'out') ground.spread.add(point.gridFirst, point.gridSecond, point.ellipsoidalHeightM);
        else {
          ground.step.transformation.inverse(row.first, row.second, gridIn);
          ground.spread.add(gridIn.first, gridIn.second, row.ellipsoidalHeightM);
        }
      }
      count += 1;
      batch.push({ cells: cells(row, point), latitudeDeg: point.latitudeDeg, longitudeDeg: point.longitudeDeg, ellipsoidalHeightM: point.ellipsoidalHeightM });
    }
    if (batch.length > 0) await sink.write(writer.rows(batch));
    bench.progress.update(`${source.name}: ${String(count + bad)} rows`);
  }
  log.input(source, kind, count + without, bad);
  if (bad > 0 && tables.onError === 'stop') throw new StopError([]);
  const verdict = ground?.verdict() ?? null;
  if (verdict?.problem != null) {
    for (const line of verdict.lines) diagnostics.say(line);
    throw new StopError([verdict.problem]);
  }
  await sink.write(writer.end());
  diagnostics.say(`${String(count)} ${count === 1 ? 'point' : 'points'} from ${from.label} to ${to.label}${ground === null ? '' : ground.end === 'out' ? ', on the ground' : ', from the ground'}`);
  for (const line of [...loaded.said, ...(verdict?.lines ?? []), ...watch.summary()]) diagnostics.say(line);
  if (input.leftOut.length > 0) diagnostics.say(`left out, because they belong to the system the points come from: ${input.leftOut.join(', ')}`);
  if (input.notTrusted.length > 0) diagnostics.say(notTrustedLine(input.notTrusted, setup.change.kind === 'none' ? 'the change of heights' : 'the operation'));
  if (without > 0) diagnostics.say(withoutPlaceLine(without));
  if (bad > 0) diagnostics.say(`${String(bad)} ${bad === 1 ? 'row with errors was' : 'rows with errors were'} left out on request`);
  return endWith(rowsAnswer(count, bad), invocation, log);
}

/** The grid of a pair that may stand beside degrees: that of the target, whose pair the output replaces. */
function besideGrid({ from, to }: LoadedTransform): GridSystem | null {
  return from.kind === 'geographic' && from.topocentric === null ? to.grid : null;
}

async function openPlaces(path: string, loaded: LoadedTransform, tables: TableOptions, bench: Workbench): Promise<Outcome<{ readonly source: Source; readonly kind: 'csv' | 'geojson'; readonly input: PlaceInput }>> {
  const { context } = bench;
  const opened = await openSource(path, { cwd: context.cwd, stdin: context.stdin, encoding: tables.encoding });
  if (!opened.ok) return opened;
  const source = opened.value;
  const kind = ['.geojson', '.json'].includes(extname(path).toLowerCase()) ? 'geojson' : 'csv';
  const { setup, from, heights } = loaded;
  const axes = setup.stepIn?.columns ?? (from.grid === null ? null : ([from.grid.axes[0].columnName, from.grid.axes[1].columnName] as const));
  const geojson = kind === 'geojson' ? await import('../../io/geojson-table.js') : null;
  const table = geojson === null ? await readCsv(source, tables.dialect) : await geojsonTable(source, geojson.readGeojsonTable);
  const input = table.ok
    ? readPlaceRows(table.value, {
        kind: from.topocentric === null ? from.kind : 'topocentric',
        axes,
        needs: heights.needs,
        trust: trustKept(setup),
        mapping: tables.mapping,
        beside: besideGrid(loaded) === null ? null : axisNames(besideGrid(loaded)),
        alsoLeftOut: geojson === null ? [] : ['frame', 'frame_epoch_year', 'system'],
        ...(geojson !== null && { place: geojson.geojsonPlace }),
      })
    : table;
  if (!input.ok) {
    await source.close();
    return input;
  }
  return { ok: true, value: { source, kind, input: input.value }, problems: input.problems };
}

async function geojsonTable(source: Source, read: (text: string, name: string, unlocated: 'allowed') => Outcome<CsvTable>): Promise<Outcome<CsvTable>> {
  const { wholeText } = await import('../../io/whole-text.js');
  const text = await wholeText(source);
  return text.ok ? read(text.value, source.name, 'allowed') : text;
}

function located(problem: Problem, source: string, line: number, record: number, kind: 'csv' | 'geojson'): Problem {
  return locateProblem(problem, kind === 'csv' ? { source, line, record } : { source, path: `features[${String(record - 1)}]`, record });
}

/** An operation has an accuracy of its own, often metres, and a change of heights that of its model. */
function trustKept({ change, verticalM, toEllipsoidal, toOrthometric }: TransformSetup): TrustKept {
  if (change.kind !== 'none') return 'none';
  return verticalM !== null || toEllipsoidal !== null || toOrthometric !== null ? 'plan' : 'all';
}

/** The epoch the written coordinates belong to; null where their frame moves with its plate or no epoch is known. */
function epochOf({ to, options }: LoadedTransform): number | null {
  const frame = to.geographic.code === null ? null : operationFrameOf(to.geographic.code);
  return frame?.name.startsWith('ITRF') === true || options.motion !== null ? options.epochYear : null;
}

function recordTransform({ from, to, options, heights, methods, shift }: LoadedTransform, bench: Workbench, log: RunLog): void {
  const option = (key: string, value: string | number | null): void => {
    if (value !== null) log.setting(key, value, 'command line');
  };
  log.model('system', { role: 'from', name: from.label, definition: from.definition, sha256: null });
  log.model('system', { role: 'to', name: to.label, definition: to.definition, sha256: null });
  if (heights.geoid !== null) log.model('grid', { role: `geoid (${heights.geoid.interpolation})`, name: heights.geoid.grid.name, definition: heights.geoid.grid.frame, sha256: heights.geoid.grid.sha256 });
  if (shift !== null) log.model('grid', { role: 'shift', name: shift.name, definition: null, sha256: shift.sha256 });
  for (const method of methods) log.method(method);
  option('transform.from', from.name);
  option('transform.to', to.name);
  option('transform.epoch_year', options.epochYear);
  for (const [key, name] of [['from_height', 'fromHeight'], ['to_height', 'toHeight'], ['ground_at', 'groundAt'], ['topocentric_at', 'topocentricAt'], ['plate', 'plate'], ['velocity', 'velocity']] as const) {
    option(`transform.${key}`, textOption(bench.invocation, name));
  }
  if (heights.geoid !== null) log.setting('height.interpolation', heights.geoid.interpolation, textOption(bench.invocation, 'geoidInterpolation') === null ? 'default' : 'command line');
  option('height.geoid_frame', textOption(bench.invocation, 'geoidFrame'));
  if (options.inverse) log.setting('transform.inverse', true, 'command line');
  if (options.acceptsDefault) log.setting('transform.accept_default_shift', true, 'command line');
}
