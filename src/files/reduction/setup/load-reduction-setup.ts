import { createGeodesic } from '../../../core/ellipsoid/geodesic.js';
import type { GeoidGrid } from '../../../core/geoid/geoid-grid.js';
import { systemsAgree } from '../../../core/grid/systems/systems-agree.js';
import type { GeographicSystem } from '../../../core/grid/systems/geographic-system.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { createPrecisionModel } from '../../../core/planning/precision-model.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { prepareBases } from '../../../tasks/bases/prepare-bases.js';
import type { PreparedBase } from '../../../tasks/bases/prepare-bases.js';
import type { ReductionSetup } from '../../../tasks/reduce/reduction-setup.js';
import { loadReductionGeoid } from './load-reduction-geoid.js';
import { loadReductionShift } from './load-reduction-shift.js';
import { settleBases } from './settle-bases.js';
import type { ReductionShift } from '../../../tasks/reduce/reduction-shift.js';
import type { FixesSystem } from '../../systems/load-systems.js';
import { loadFixesSystem, loadGridSystem } from '../../systems/load-systems.js';
import type { SessionInPlace } from '../../sessions/session-in-place.js';
import { systemLabel } from '../../../core/grid/systems/system-label.js';

/**
 * Loads what a reduction needs: systems, geoid, bases. Problems: config-missing, system-mismatch and
 * those of each part. Warnings say what the uncertainty leaves out. `heldGeoid`: the geoid's grid, where it has been read already.
 */
export async function loadReductionSetup(
  resolved: SessionInPlace,
  sources: readonly string[],
  heldGeoid: GeoidGrid | null = null,
): Promise<Outcome<ReductionSetup & { readonly grid: GridSystem }>> {
  const { session } = resolved;
  const systems = await loadSystems(resolved);
  if (!systems.ok) return systems;
  const { grid, fixes, fixesGrid, shift } = systems.value;
  const loaded = await loadGeoid(resolved, systems.value, heldGeoid);
  if (!loaded.ok) return loaded;
  const { geoid, sigmaM: geoidSigmaM } = loaded.value;
  const { ellipsoid } = shift === null ? fixes : grid.base;
  const settled = await settleBases(session.bases, grid.base, resolved.folder);
  if (!settled.ok) return settled;
  const bases = prepareBases(settled.value, { ellipsoid, fixesEllipsoid: fixes.ellipsoid, grid, geoid, shift });
  if (!bases.ok) return bases;
  return success(
    {
      fixesSystem: fixes,
      // With a shift the grid lies behind it: fixes that are grid coordinates are in a system of their own.
      fixesGrid: fixesGrid ?? (shift === null ? grid : null),
      shift,
      ellipsoid,
      geodesic: createGeodesic(ellipsoid),
      grid,
      geoid,
      geoidSigmaM,
      bases: bases.value,
      rover: session.rover,
      acceptance: session.acceptance,
      precision: createPrecisionModel(session.precision),
      ageRateMPerS: session.precision.ageMmPerS / 1000,
      tolerance: session.tolerance,
      sources,
    },
    [...systems.problems, ...loaded.problems, ...settled.problems, ...unstatedOfBases(bases.value)],
  );
}

/** The systems of a reduction, and the shift between them where one is named. */
interface ReductionSystems {
  readonly grid: GridSystem;
  readonly fixes: GeographicSystem;
  /** The system of fixes that are grid coordinates, as the session names it. */
  readonly fixesGrid: GridSystem | null;
  readonly shift: ReductionShift | null;
}

/** Problems: config-missing; system-mismatch where both are on different datums and no shift is named; those of the shift. */
async function loadSystems({ session, folder, reading }: SessionInPlace): Promise<Outcome<ReductionSystems>> {
  if (session.system === null || session.system.grid === '') {
    return failure(
      errorProblem('config-missing', {
        message: 'no grid system is set',
        hint: 'give --system EPSG:n, or [system] grid = "EPSG:n" in the session file',
      }),
    );
  }
  const { system } = session;
  const grid = loadGridSystem(system.grid);
  if (!grid.ok) return grid;
  const stated = statedFixes(system.fixes, grid.value);
  if (!stated.ok) return stated;
  const { geographic: fixes, grid: fixesGrid } = stated.value;
  const { base: national } = grid.value;
  const shift =
    system.shift === null
      ? success(null)
      : await loadReductionShift(system.shift, folder, reading, fixes, national, system.epochYear);
  if (!shift.ok) return shift;
  if (shift.value === null && !systemsAgree(fixes, national)) {
    return failure(
      errorProblem('system-mismatch', {
        message: `the fixes are in ${systemLabel(fixes)} and the grid ${grid.value.name} is on ${national.name}`,
        received: fixes.code ?? fixes.name,
        expected: national.code ?? national.name,
        hint: 'a change of datum is never made silently: name it with system.shift in the session file, or choose a grid on the datum of the fixes',
      }),
    );
  }
  const ofShift = shift.value === null ? [] : [...shift.problems, shiftAccuracy(shift.value)];
  return success({ grid: grid.value, fixes, fixesGrid, shift: shift.value }, [...grid.problems, ...ofShift]);
}

/** The geoid that the session names, and what it is good to; a warning where that is not stated. */
async function loadGeoid(
  { session, folder, reading }: SessionInPlace,
  { fixes, grid, shift }: ReductionSystems,
  heldGeoid: GeoidGrid | null,
): Promise<Outcome<{ readonly geoid: ReductionSetup['geoid']; readonly sigmaM: number | null }>> {
  const { geoid: model, interpolation, sigmaM, geoidFrame } = session.height;
  if (model === null) return success({ geoid: null, sigmaM: null });
  const loaded = await loadReductionGeoid(
    { model, interpolation, sigmaM, statedFrame: geoidFrame },
    folder,
    { fixes, national: grid.base, shift },
    reading,
    heldGeoid,
  );
  if (!loaded.ok || loaded.value.sigmaM !== null) return loaded;
  const warning = unstated(
    'the geoid height has no stated sigma, so 95 % vertical figures leave it out',
    'set height.sigma_m',
  );
  return success(loaded.value, [...loaded.problems, warning]);
}

/** What the uncertainty leaves out of the bases. */
function unstatedOfBases(bases: readonly PreparedBase[]): readonly Problem[] {
  if (bases.length === 0) {
    return [
      unstated(
        'no base is described: baselines are unknown, and the uncertainty leaves out the base and everything that grows with distance',
        'add a [[base]] to the session',
      ),
    ];
  }
  return bases
    .filter(({ settings }) => settings.sigmaHorizontalM === null || settings.sigmaVerticalM === null)
    .map(({ settings }) =>
      unstated(
        `base ${settings.id} has no stated sigma, so figures are relative to it`,
        'set sigma_horizontal_m and sigma_vertical_m of the base',
      ),
    );
}

/** The system of the fixes; the base of the grid where none is named. */
function statedFixes(text: string | null, grid: GridSystem): Outcome<FixesSystem> {
  return text === null ? success({ geographic: grid.base, grid: null }) : loadFixesSystem(text);
}

/** The 95 % figures are those of the observation in its own frame. */
function shiftAccuracy({ accuracyM, code, name }: ReductionShift): Problem {
  const stated = accuracyM === null ? 'which states none' : `stated as ${String(accuracyM)} m`;
  return unstated(
    `the 95 % figures leave out the accuracy of the shift ${code ?? name}, ${stated}`,
    'points of one base share it; it matters against work done another way',
  );
}

function unstated(message: string, hint: string): Problem {
  return warningProblem('config-unstated', { message, hint });
}
