import { resolve } from 'node:path';
import { operationFrameOf } from '../../../core/frames/operations/operation-frames.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import type { PlaceReadOptions } from '../../../io/tables/points/place-rows-read.js';
import type { TrustKept } from '../../../io/tables/columns/trust-columns.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { createPointTransformer } from '../../../tasks/transform/transform-point.js';
import type { TransformSetup } from '../../../tasks/transform/transform-setup.js';
import { createAreaWatch } from '../../../tasks/transform/transform-warning.js';
import type { AreaWatch } from '../../../tasks/transform/transform-warning.js';
import { emptyTransformedPoint } from '../../../tasks/reduce/transformed-point.js';
import { flagOption, textOption } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { axisNames } from '../../../files/points/open-points.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { createRowWriter } from '../../outputs/row-writer.js';
import { endWith, rowsAnswer } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { StopError } from '../../shell/stop.js';
import { tableOptions } from '../../inputs/table-options.js';
import type { TableOptions } from '../../inputs/table-options.js';
import { carryPlaces, openPlaceOutputs, sayLeftOut } from './carry-places.js';
import type { RowMapper } from './carry-places.js';
import { openPlaces } from './open-places.js';
import { ownPlaceCheck } from './own-place-check.js';
import { transformColumns } from './transform-columns.js';
import type { TransformColumns } from './transform-columns.js';
import { loadTransform } from './options/transform-setup-load.js';
import type { LoadedTransform } from './options/transform-setup-load.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';

/** Carries points to another system; see `transformSpec`. */
export const runTransform: CommandRun = (invocation, context) => {
  const files = [
    ...invocation.args.filter((path) => path !== '-'),
    ...['shift', 'geoid', 'site'].flatMap((name) => textOption(invocation, name) ?? []),
  ];
  const log = createRunLog(invocation, context);
  const body =
    textOption(invocation, 'site') === null
      ? transform
      : async (bench: Workbench, siteLog: RunLog): Promise<RunEnd> =>
          (await import('./site-run.js')).transformOntoSite(bench, siteLog);
  return withWorkbench(
    invocation,
    context,
    files.map((path) => resolve(context.cwd, path)),
    (bench) => body(bench, log),
    log.failure,
  );
};

async function transform(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics } = bench;
  if (flagOption(invocation, 'extrapolate'))
    bench.take(
      failure(
        errorProblem('usage-conflict', {
          message: '--extrapolate needs --site',
          hint: 'it lets points lie outside the control of a site',
        }),
      ),
    );
  const dms = textOption(invocation, 'angles') === 'dms';
  if (dms && bench.format === 'geojson') {
    bench.take(
      failure(
        errorProblem('usage-conflict', {
          message: 'GeoJSON holds decimal degrees',
          hint: 'leave out --angles dms, or write CSV',
        }),
      ),
    );
  }
  const loaded = bench.take(await loadTransform(invocation, context, bench.format === 'geojson'));
  const { setup, from, to, ground } = loaded;
  const wrongFrame = bench.format === 'geojson' ? geojsonFrameProblem(to.geographic) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  recordTransform(loaded, bench, log);
  const tables = bench.take(tableOptions(invocation, {}));
  const opened = bench.take(await openPlaces(invocation.args[0] ?? '-', readOptions(loaded, tables), tables, context));
  const outputs = await openPlaceOutputs(bench, tables);
  const { columns, notes, cells } = transformColumns(setup, opened.input, bench.format, dms);
  diagnostics.report(notes);
  const frame = {
    frame: to.geographic.code ?? to.geographic.name,
    epochYear: epochOf(loaded),
    system:
      to.topocentric === null
        ? to.name
        : `topocentric about ${textOption(invocation, 'topocentricAt') ?? ''}, ${to.name}`,
  };
  const writer = createRowWriter(bench.format, columns, frame, csvWriteOptions(invocation));
  const compare = bench.take(
    ownPlaceCheck(
      setup.stepIn !== null || from.topocentric !== null ? null : (from.grid ?? besideGrid(loaded)),
      from.grid !== null,
      tables.positionFrom,
    ),
  );
  const watch = createAreaWatch(
    from.kind === 'projected' && setup.change.kind !== 'plane' && from.name !== to.name ? from : null,
    to,
    loaded.watched,
  );
  const map = createRowMapper(loaded, watch, cells);
  const counts = await carryPlaces({ opened, tables, compare, map, saysPoint: false, writer, outputs }, bench, log);
  const verdict = ground?.verdict() ?? null;
  if (verdict?.problem != null) {
    for (const line of verdict.lines) diagnostics.say(line);
    throw new StopError([verdict.problem]);
  }
  await outputs.sink.write(writer.end());
  const { count, bad } = counts;
  diagnostics.say(
    `${String(count)} ${count === 1 ? 'point' : 'points'} from ${from.label} to ${to.label}${ground === null ? '' : ground.end === 'out' ? ', on the ground' : ', from the ground'}`,
  );
  for (const line of [...loaded.said, ...(verdict?.lines ?? []), ...watch.summary()]) diagnostics.say(line);
  sayLeftOut(opened, counts, setup.change.kind === 'none' ? 'the change of heights' : 'the operation', bench);
  if (bad > 0)
    diagnostics.say(
      `${String(bad)} ${bad === 1 ? 'row with errors was' : 'rows with errors were'} left out on request`,
    );
  return endWith(rowsAnswer(count, bad), invocation, log);
}

/** A row through the frames, grids and heights of a transformation; one record serves the whole run. */
function createRowMapper(
  { setup, ground }: LoadedTransform,
  watch: AreaWatch,
  cells: TransformColumns['cells'],
): RowMapper {
  const run = createPointTransformer(setup);
  const point = emptyTransformedPoint();
  const gridIn = { first: 0, second: 0 };
  return (row, tell) => {
    const problem = run(row, point);
    if (problem !== null) {
      tell(problem);
      return null;
    }
    if (point.doubt !== null) tell(point.doubt);
    const warning = watch.check(row.pointId, point);
    if (warning !== null) tell(warning);
    if (ground?.end === 'out') ground.spread.add(point.gridFirst, point.gridSecond, point.ellipsoidalHeightM);
    else if (ground !== null) {
      ground.step.transformation.inverse(row.first, row.second, gridIn);
      ground.spread.add(gridIn.first, gridIn.second, row.ellipsoidalHeightM);
    }
    return {
      cells: cells(row, point),
      latitudeDeg: point.latitudeDeg,
      longitudeDeg: point.longitudeDeg,
      ellipsoidalHeightM: point.ellipsoidalHeightM,
    };
  };
}

/** The grid of a pair that may stand beside degrees: that of the target, whose pair the output replaces. */
function besideGrid({ from, to }: LoadedTransform): GridSystem | null {
  return from.kind === 'geographic' && from.topocentric === null ? to.grid : null;
}

/** What is read of each row. */
function readOptions(loaded: LoadedTransform, { mapping }: TableOptions): Omit<PlaceReadOptions, 'place'> {
  const { setup, from, heights } = loaded;
  const beside = besideGrid(loaded);
  return {
    kind: from.topocentric === null ? from.kind : 'topocentric',
    axes:
      setup.stepIn?.columns ??
      (from.grid === null ? null : [from.grid.axes[0].columnName, from.grid.axes[1].columnName]),
    needs: heights.needs,
    trust: trustKept(setup),
    mapping,
    beside: beside === null ? null : axisNames(beside),
    alsoLeftOut: [],
  };
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

function recordTransform(
  { from, to, options, heights, methods, shift }: LoadedTransform,
  bench: Workbench,
  log: RunLog,
): void {
  const option = (key: string, value: string | number | null): void => {
    if (value !== null) log.setting(key, value, 'command line');
  };
  log.model('system', { role: 'from', name: from.label, definition: from.definition, sha256: null });
  log.model('system', { role: 'to', name: to.label, definition: to.definition, sha256: null });
  if (heights.geoid !== null)
    log.model('grid', {
      role: `geoid (${heights.geoid.interpolation})`,
      name: heights.geoid.grid.name,
      definition: heights.geoid.grid.frame,
      sha256: heights.geoid.grid.sha256,
    });
  if (shift !== null) log.model('grid', { role: 'shift', name: shift.name, definition: null, sha256: shift.sha256 });
  for (const method of methods) log.method(method);
  option('transform.from', from.name);
  option('transform.to', to.name);
  option('transform.epoch_year', options.epochYear);
  for (const [key, name] of [
    ['from_height', 'fromHeight'],
    ['to_height', 'toHeight'],
    ['ground_at', 'groundAt'],
    ['topocentric_at', 'topocentricAt'],
    ['plate', 'plate'],
    ['velocity', 'velocity'],
  ] as const) {
    option(`transform.${key}`, textOption(bench.invocation, name));
  }
  if (heights.geoid !== null)
    log.setting(
      'height.interpolation',
      heights.geoid.interpolation,
      textOption(bench.invocation, 'geoidInterpolation') === null ? 'default' : 'command line',
    );
  option('height.geoid_frame', textOption(bench.invocation, 'geoidFrame'));
  if (options.inverse) log.setting('transform.inverse', true, 'command line');
  if (options.acceptsDefault) log.setting('transform.accept_default_shift', true, 'command line');
}
