import { createGeodesic } from '../../../core/ellipsoid/geodesic.js';
import type { GeoidGrid } from '../../../core/geoid/geoid-grid.js';
import { systemsAgree } from '../../../core/grid/systems/systems-agree.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { pushAll } from '../../../core/numeric/push-all.js';
import { createPrecisionModel } from '../../../core/planning/precision-model.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { prepareBases } from '../../../tasks/bases/prepare-bases.js';
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
  if (session.system === null || session.system.grid === '') {
    return failure(
      errorProblem('config-missing', {
        message: 'no grid system is set',
        hint: 'give --system EPSG:n, or [system] grid = "EPSG:n" in the session file',
      }),
    );
  }
  const grid = loadGridSystem(session.system.grid);
  if (!grid.ok) return grid;
  const warnings: Problem[] = [...grid.problems];
  const stated = statedFixes(session.system.fixes, grid.value);
  if (!stated.ok) return stated;
  const { geographic: fixes } = stated.value;
  const { base: national } = grid.value;
  const { epochYear } = session.system;
  const shift =
    session.system.shift === null
      ? success(null)
      : await loadReductionShift(session.system.shift, resolved.folder, resolved.reading, fixes, national, epochYear);
  if (!shift.ok) return shift;
  if (shift.value !== null) pushAll(warnings, [...shift.problems, shiftAccuracy(shift.value)]);
  if (shift.value === null && !systemsAgree(fixes, national)) {
    return failure(
      errorProblem('system-mismatch', {
        message: `the fixes are in ${systemLabel(fixes)} and the grid ${grid.value.name} is on ${grid.value.base.name}`,
        received: fixes.code ?? fixes.name,
        expected: grid.value.base.code ?? grid.value.base.name,
        hint: 'a change of datum is never made silently: name it with system.shift in the session file, or choose a grid on the datum of the fixes',
      }),
    );
  }
  const { ellipsoid } = shift.value === null ? fixes : national;
  let geoid: ReductionSetup['geoid'] = null;
  let geoidSigmaM: number | null = null;
  if (session.height.geoid !== null) {
    const { geoid: model, interpolation, sigmaM, geoidFrame } = session.height;
    const loaded = await loadReductionGeoid(
      { model, interpolation, sigmaM, statedFrame: geoidFrame },
      resolved.folder,
      { fixes, national, shift: shift.value },
      resolved.reading,
      heldGeoid,
    );
    if (!loaded.ok) return loaded;
    pushAll(warnings, loaded.problems);
    ({ geoid, sigmaM: geoidSigmaM } = loaded.value);
    if (geoidSigmaM === null)
      warnings.push(
        unstated('the geoid height has no stated sigma, so 95 % vertical figures leave it out', 'set height.sigma_m'),
      );
  }
  const settled = await settleBases(session.bases, national, resolved.folder);
  if (!settled.ok) return settled;
  pushAll(warnings, settled.problems);
  const bases = prepareBases(settled.value, {
    ellipsoid,
    fixesEllipsoid: fixes.ellipsoid,
    grid: grid.value,
    geoid,
    shift: shift.value,
  });
  if (!bases.ok) return bases;
  if (session.bases.length === 0) {
    warnings.push(
      unstated(
        'no base is described: baselines are unknown, and the uncertainty leaves out the base and everything that grows with distance',
        'add a [[base]] to the session',
      ),
    );
  }
  for (const base of bases.value) {
    if (base.settings.sigmaHorizontalM === null || base.settings.sigmaVerticalM === null) {
      warnings.push(
        unstated(
          `base ${base.settings.id} has no stated sigma, so figures are relative to it`,
          'set sigma_horizontal_m and sigma_vertical_m of the base',
        ),
      );
    }
  }
  return success(
    {
      fixesSystem: fixes,
      // With a shift the grid lies behind it: fixes that are grid coordinates are in a system of their own.
      fixesGrid: stated.value.grid ?? (shift.value === null ? grid.value : null),
      shift: shift.value,
      ellipsoid,
      geodesic: createGeodesic(ellipsoid),
      grid: grid.value,
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
    warnings,
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
