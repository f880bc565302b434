import { basename, isAbsolute, resolve } from 'node:path';
import { WGS84 } from '../../core/ellipsoid/ellipsoid.js';
import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { frameAgreement } from '../../core/geoid/geoid-frame.js';
import { createGeoidHeight } from '../../core/geoid/geoid-height.js';
import type { GeoidGrid } from '../../core/geoid/geoid-grid.js';
import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import { GEOID_ENDINGS } from '../../io/grids/geoid-formats.js';
import { BUILT_IN_GEOID, readGeoidGrid } from '../../io/grids/geoid-grid-read.js';
import type { GridReading } from '../../io/grids/grid-reading.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { GeoidInterpolation } from '../../records/session.js';
import { systemCodes } from '../systems/system-codes.js';
import { present } from '../../records/present.js';

/**
 * One sigma of the built-in model where the session states none, metres: the commission error of
 * EGM96 is given as half a metre to a metre; from memory.
 */
export const BUILT_IN_GEOID_SIGMA_M = 0.5;

export interface GeoidChoice {
  /** `egm96` or a path. */
  readonly model: string;
  readonly interpolation: GeoidInterpolation;
  readonly sigmaM: number | null;
  /** The frame the user states the grid to be given in, which then counts instead of the file's word. */
  readonly statedFrame: string | null;
}

export interface LoadedGeoid {
  readonly geoid: GeoidModel;
  readonly sigmaM: number | null;
}

/**
 * Loads a geoid and compares its frame with that of the positions. `held`: its grid, where it has been read already.
 * Problems: those of the reader and the interpolation; grid-frame-mismatch. Warning: geoid-coarse.
 */
export async function loadGeoid(
  choice: GeoidChoice,
  folder: string,
  system: GeographicSystem,
  reading: GridReading,
  held: GeoidGrid | null = null,
): Promise<Outcome<LoadedGeoid>> {
  const path =
    choice.model === BUILT_IN_GEOID || isAbsolute(choice.model) ? choice.model : resolve(folder, choice.model);
  const grid = held === null ? await readGeoidGrid(path, reading) : success(held);
  // Named as typed: where the files of a job are kept is nobody's business but the surveyor's.
  const problems = grid.problems.map((problem) =>
    problem.where?.source === path ? asTyped(problem, choice.model) : problem,
  );
  if (!grid.ok) return failureOf(problems);
  const model = createGeoidHeight(grid.value, choice.interpolation);
  if (!model.ok) return model;
  const warnings: Problem[] = [...problems];
  const frame = choice.statedFrame ?? grid.value.frame;
  const codes = systemCodes(system, frame);
  const isElsewhere =
    choice.model === BUILT_IN_GEOID
      ? choice.statedFrame === null && !isSatelliteEllipsoid(system.ellipsoid)
      : frameAgreement(frame, codes) === 'differs';
  if (isElsewhere) {
    return failure(
      errorProblem('grid-frame-mismatch', {
        message: `geoid grid ${grid.value.name} is given in ${present(frame, 'frame')} and the positions are in ${system.code ?? system.name}`,
        received: present(frame, 'frame'),
        expected: codes.join(' or '),
        hint: `transform the positions first, or, if the two frames agree to the accuracy you need, say so: --geoid-frame ${system.code ?? 'CODE'}, or height.geoid_frame in a session`,
      }),
    );
  }
  if (grid.value.precisionNote !== null) {
    warnings.push(
      warningProblem('geoid-coarse', {
        message: `geoid ${grid.value.name}: ${grid.value.precisionNote}`,
        hint: `use a national grid file (${GEOID_ENDINGS.join(', ')}) for heights that matter`,
      }),
    );
  }
  const sigmaM = choice.sigmaM ?? (choice.model === BUILT_IN_GEOID ? BUILT_IN_GEOID_SIGMA_M : null);
  return success({ geoid: model.value, sigmaM }, warnings);
}

/**
 * The built-in model is good to decimetres, and serves every frame of satellites. Their ellipsoids differ by a tenth of a
 * millimetre (GRS 1980, WGS 84), those of triangulation from them by tens of metres and more, and so do heights above them.
 */
const SAME_ELLIPSOID_M = 1;

function isSatelliteEllipsoid(ellipsoid: Ellipsoid): boolean {
  return (
    Math.abs(ellipsoid.semiMajorAxisM - WGS84.semiMajorAxisM) < SAME_ELLIPSOID_M &&
    Math.abs(semiMinorAxisM(ellipsoid) - semiMinorAxisM(WGS84)) < SAME_ELLIPSOID_M
  );
}

function semiMinorAxisM({ semiMajorAxisM, eccentricitySquared }: Ellipsoid): number {
  return semiMajorAxisM * Math.sqrt(1 - eccentricitySquared);
}

function asTyped(problem: Problem, model: string): Problem {
  const named = { ...problem, where: { ...problem.where, source: isAbsolute(model) ? basename(model) : model } };
  return problem.code === 'file-not-found'
    ? { ...named, hint: "a path in a session file starts from that file's folder" }
    : named;
}
