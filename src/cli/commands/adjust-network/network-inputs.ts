import { GRS80 } from '../../../core/ellipsoid/ellipsoid.js';
import { loadNetwork } from '../../../files/network/load-network.js';
import type { LoadedNetwork, NetworkFiles, NetworkReading } from '../../../files/network/load-network.js';
import { loadSessionOfRecord } from '../../../files/network/session-of-record.js';
import { loadGeoid } from '../../../files/grids/load-geoid.js';
import { loadGridSystem } from '../../../files/systems/load-systems.js';
import { loadReductionSetup } from '../../../files/reduction/setup/load-reduction-setup.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { GEOID_TILT_SIGMA_M_PER_KM } from '../../../tasks/network/input/network-input.js';
import type { NetworkSystems } from '../../../tasks/network/input/network-input.js';
import type { OccupationSession } from '../../../tasks/network/input/point-vectors.js';
import { collectPoints } from '../../inputs/collect-points.js';
import { knownSession } from '../../inputs/known-session.js';
import { networkPointColumns, OBSERVATION_COLUMNS } from './say/network-columns.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import { tableOptions } from '../../inputs/table-options.js';
import { createRejects } from '../../outputs/rejects.js';
import { isGiven, listOption, numberOption, textOption } from '../../shell/command-spec.js';
import type { Invocation, NumberOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';

/** The network of a run, under the title of its session. */
export interface NetworkInputs extends LoadedNetwork {
  readonly title: string | null;
}

/** Reads the sessions and every file that a run names. Problems stop the run. */
export async function networkInputs(bench: Workbench, log: RunLog): Promise<NetworkInputs> {
  const { invocation, context } = bench;
  const resolved = await knownSession(bench, log);
  log.session(resolved, bench.diagnostics);
  const tables = bench.take(tableOptions(invocation, null));
  const sessions = await sessionsOf(resolved, bench, log);
  const systems = await systemsOf(resolved, sessions, bench, log);
  bench.columns(networkPointColumns(systems.grid).map(({ name }) => name));
  bench.columns(
    OBSERVATION_COLUMNS.map(({ name }) => name),
    'observations',
  );
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const files: NetworkFiles = {
    sessions,
    points: invocation.args.map((path, index) => ({ path, session: sessions.length > 1 ? index : 0 })),
    vectors: textOption(invocation, 'vectors'),
    control: textOption(invocation, 'control'),
    levelled: textOption(invocation, 'levelled'),
    distances: textOption(invocation, 'distances'),
  };
  const reading: NetworkReading = {
    tables,
    controlColumns: bench.take(tableOptions(controlInvocation(invocation), null)).mapping,
    assumed: {
      setup: {
        horizontalM: sigmaOption(bench, 'setupSigmaHorizontal'),
        verticalM: sigmaOption(bench, 'setupSigmaVertical'),
      },
      geoidTiltSigmaMPerKm: sigmaOption(bench, 'geoidTiltSigma') ?? GEOID_TILT_SIGMA_M_PER_KM,
      positionFrom: tables.positionFrom,
    },
    surroundings: { cwd: context.cwd, stdin: context.stdin },
    collect: (opened, check) => collectPoints(opened, bench, tables.onError, rejects, check),
    onRead: (source, kind, used, rejected) => {
      log.input(source, kind, used, rejected);
    },
  };
  return { ...bench.take(await loadNetwork(files, systems, reading)), title: resolved.session.title };
}

/** The sessions of the points files: those of their records, one each, or the one of --session. */
async function sessionsOf(
  resolved: ResolvedSession,
  bench: Workbench,
  log: RunLog,
): Promise<readonly OccupationSession[]> {
  const { invocation, context } = bench;
  const records = recordPaths(invocation);
  if (records.length === 0) {
    if (resolved.file !== null || resolved.sources !== undefined)
      return [{ setup: bench.take(await loadReductionSetup(resolved, [])), day: '' }];
    if (invocation.args.length > 0)
      bench.take(
        failure(
          errorProblem('config-missing', {
            message: 'points need the session that describes their bases',
            hint: 'give --session FILE, the one they were reduced with, or the run record of each with --run-records',
          }),
        ),
      );
    return [];
  }
  const hasSession = isGiven(invocation, 'session') || isGiven(invocation, 'job');
  if (hasSession || records.length !== invocation.args.length)
    bench.take(
      failure(
        errorProblem('usage-conflict', {
          message: hasSession
            ? '--run-records and a session or job both say what the points were reduced with'
            : `${counted(invocation.args.length, 'points file')} and ${counted(records.length, 'run record')} do not go together`,
          hint: 'give one run record for each points file, in their order, and no session',
        }),
      ),
    );
  const sessions: OccupationSession[] = [];
  for (const [index, path] of records.entries()) {
    const read = bench.take(await loadSessionOfRecord(path, context.cwd, resolved));
    log.input(read.source, 'run record', 1, 0);
    sessions.push({ setup: read.setup, day: records.length > 1 ? `file ${String(index + 1)}` : '' });
  }
  return sessions;
}

function counted(count: number, word: string): string {
  return `${String(count)} ${word}${count === 1 ? '' : 's'}`;
}

/** What places are in: of the first session, of --system, or the ellipsoid alone. */
async function systemsOf(
  resolved: ResolvedSession,
  sessions: readonly OccupationSession[],
  bench: Workbench,
  log: RunLog,
): Promise<NetworkSystems> {
  const [first] = sessions;
  if (first !== undefined) {
    const other = sessions.find(({ setup }) => setup.grid.name !== first.setup.grid.name);
    if (other !== undefined)
      bench.take(
        failure(
          errorProblem('system-mismatch', {
            message: `one points file is in ${first.setup.grid.name}, another in ${other.setup.grid.name}`,
            hint: 'one adjustment has one frame: transform the points first, or reduce them in one system',
          }),
        ),
      );
    log.models(first.setup, bench.diagnostics);
    return first.setup;
  }
  const { session } = resolved;
  const { height } = session;
  if (session.system === null || session.system.grid === '') {
    if (height.geoid !== null)
      bench.take(
        failure(
          errorProblem('config-missing', {
            message: 'a geoid needs the system that the places are in',
            hint: 'give --system EPSG:n',
          }),
        ),
      );
    bench.diagnostics.say(
      'no system is named: places are geocentric, and latitudes and heights those of the GRS 80 ellipsoid',
    );
    return { ellipsoid: GRS80, grid: null, geoid: null, geoidSigmaM: null };
  }
  const grid = bench.take(loadGridSystem(session.system.grid));
  const { geoid: model, interpolation, sigmaM, geoidFrame: statedFrame } = height;
  const choice = model === null ? null : { model, interpolation, sigmaM, statedFrame };
  const loaded =
    choice === null ? null : bench.take(await loadGeoid(choice, resolved.folder, grid.base, resolved.reading));
  const geoid = loaded?.geoid ?? null;
  log.models({ fixesSystem: grid.base, grid, geoid }, bench.diagnostics);
  return { ellipsoid: grid.base.ellipsoid, grid, geoid, geoidSigmaM: loaded?.sigmaM ?? null };
}

/** The run records that are named: the option may be given several times, or with commas. */
export function recordPaths(invocation: Invocation): readonly string[] {
  return listOption(invocation, 'runRecords').flatMap((text) => text.split(','));
}

/** A sigma in metres: above 0 and below 10. */
function sigmaOption(bench: Workbench, name: NumberOption): number | null {
  const value = numberOption(bench.invocation, name);
  if (value !== null && !(value > 0 && value < 10))
    bench.take(
      failure(
        errorProblem('usage-invalid', {
          message: 'the sigmas of a set-up and of the tilt of the geoid are above 0 and below 10 metres',
          received: String(value),
        }),
      ),
    );
  return value;
}

/** The options of the control file: its own columns, and always a header. */
function controlInvocation({ options, ...rest }: Invocation): Invocation {
  const { controlColumns, ...others } = options;
  const { rejects: _rejects, header: _header, columns: _columns, ...kept } = others;
  return { ...rest, options: controlColumns === undefined ? kept : { ...kept, columns: controlColumns } };
}
