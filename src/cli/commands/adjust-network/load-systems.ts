import { GRS80 } from '../../../core/ellipsoid/ellipsoid.js';
import { loadGeoid } from '../../../files/load-geoid.js';
import { loadGridSystem } from '../../../files/load-systems.js';
import { loadReductionSetup } from '../../../files/reduction/load-reduction-setup.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { NetworkSystems } from '../../../tasks/network/network-input.js';
import type { pointVectors } from '../../../tasks/network/point-vectors.js';
import { resolveSession } from '../../inputs/session-settings.js';
import type { RunLog } from '../../shell/run-log.js';
import type { Workbench } from '../../shell/workbench.js';

/** What places are in, and the session that tells it. */
export interface LoadedSystems {
  readonly systems: NetworkSystems;
  /** Null: no session is named. */
  readonly session: Parameters<typeof pointVectors>[0] | null;
}

/** The systems of a run: of its session, of --system, or the ellipsoid alone. Problems stop the run. */
export async function loadSystems(bench: Workbench, log: RunLog): Promise<LoadedSystems> {
  const { invocation, context, diagnostics } = bench;
  const resolved = bench.take(await resolveSession(invocation, context));
  log.session(resolved, bench.diagnostics);
  if (resolved.file !== null) {
    const setup = bench.take(await loadReductionSetup(resolved, []));
    log.models(setup);
    return { systems: setup, session: setup };
  }
  const { session } = resolved;
  if (session.system === null || session.system.grid === '') {
    if (session.height.geoid !== null)
      bench.take(
        failure(
          errorProblem('config-missing', {
            message: 'a geoid needs the system that the places are in',
            hint: 'give --system EPSG:n',
          }),
        ),
      );
    diagnostics.say(
      'no system is named: places are geocentric, and latitudes and heights those of the GRS 80 ellipsoid',
    );
    return { systems: { ellipsoid: GRS80, grid: null, geoid: null, geoidSigmaM: null }, session: null };
  }
  const grid = bench.take(loadGridSystem(session.system.grid));
  const { height } = session;
  const choice = {
    model: height.geoid ?? '',
    interpolation: height.interpolation,
    sigmaM: height.sigmaM,
    statedFrame: height.geoidFrame,
  };
  const loaded =
    height.geoid === null ? null : bench.take(await loadGeoid(choice, resolved.folder, grid.base, resolved.reading));
  log.models({ fixesSystem: grid.base, grid, geoid: loaded?.geoid ?? null });
  return {
    systems: {
      ellipsoid: grid.base.ellipsoid,
      grid,
      geoid: loaded?.geoid ?? null,
      geoidSigmaM: loaded?.sigmaM ?? null,
    },
    session: null,
  };
}
