import { fileURLToPath } from 'node:url';
import type { GeneratedDay, GeneratedFix } from '../../examples/quillback-pan/generate.mjs';
import { loadGridSystem } from '../../src/files/systems/load-systems.js';
import { createGeodesic } from '../../src/core/ellipsoid/geodesic.js';
import { createGeoidHeight } from '../../src/core/geoid/geoid-height.js';
import { createPrecisionModel } from '../../src/core/planning/precision-model.js';
import { readGeoidGrid } from '../../src/io/grids/geoid-grid-read.js';
import { readSession } from '../../src/io/settings/session-read.js';
import type { Fix } from '../../src/records/points/fix.js';
import type { Outcome } from '../../src/records/outcome.js';
import type { Problem } from '../../src/records/problem.js';
import { combinePoints } from '../../src/tasks/repeats/combine-points.js';
import type { CombinedPoints } from '../../src/tasks/repeats/combine-points.js';
import { prepareBases } from '../../src/tasks/bases/prepare-bases.js';
import { createReducer } from '../../src/tasks/reduce/reduce-points.js';
import type { ReductionSetup } from '../../src/tasks/reduce/reduction-setup.js';
import type { ReducedOccupation } from '../../src/tasks/reduce/reduction-working.js';

const GEOID = fileURLToPath(new URL('../../examples/quillback-pan/geoid.csv', import.meta.url));

/** What the reduction made of a generated day, without any file in between. */
export interface ReducedDay {
  readonly occupations: readonly ReducedOccupation[];
  readonly problems: readonly Problem[];
  readonly setup: ReductionSetup;
  readonly combined: () => CombinedPoints;
}

function taken<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

/** A function that reduces generated days, with grid and geoid loaded once. */
export async function createDayReduction(): Promise<(day: GeneratedDay) => ReducedDay> {
  const grid = taken(loadGridSystem('EPSG:2049'));
  const geoid = taken(createGeoidHeight(taken(await readGeoidGrid(GEOID)), 'bilinear'));
  const { ellipsoid } = grid.base;
  const geodesic = createGeodesic(ellipsoid);
  return (day) => {
    const session = taken(readSession(day.session, 'session.toml'));
    const setup: ReductionSetup = {
      fixesSystem: grid.base,
      fixesGrid: null,
      shift: null,
      ellipsoid,
      geodesic,
      grid,
      geoid,
      geoidSigmaM: session.height.sigmaM,
      bases: taken(prepareBases(session.bases, { ellipsoid, grid, geoid })),
      rover: session.rover,
      acceptance: session.acceptance,
      precision: createPrecisionModel(session.precision),
      ageRateMPerS: session.precision.ageMmPerS / 1000,
      tolerance: session.tolerance,
      sources: ['generated'],
    };
    const occupations: ReducedOccupation[] = [];
    const problems: Problem[] = [];
    const reducer = createReducer(setup, {
      onPoint: (reduced) => occupations.push(reduced),
      onProblems: (found) => problems.push(...found),
    });
    reducer.push(day.fixes.map(fixOf));
    reducer.finish();
    return {
      occupations,
      problems,
      setup,
      combined: () =>
        combinePoints(
          occupations.map(({ point }) => point),
          setup,
        ),
    };
  };
}

function fixOf(row: GeneratedFix, index: number): Fix {
  return {
    pointId: row.pointId,
    code: row.code,
    epochMs: row.epochMs,
    geodetic: {
      latitudeDeg: row.latitudeDeg,
      longitudeDeg: row.longitudeDeg,
      ellipsoidalHeightM: row.ellipsoidalHeightM,
    },
    geocentric: null,
    referencePoint: null,
    solution: row.solution,
    correctionAgeS: row.correctionAgeS,
    satellitesUsed: row.satellitesUsed,
    pdop: row.pdop,
    hdop: null,
    vdop: null,
    sigmaEastM: row.sigmaEastM,
    sigmaNorthM: row.sigmaNorthM,
    sigmaUpM: row.sigmaUpM,
    correlationEn: null,
    baseId: row.baseId,
    poleLengthM: row.poleLengthM,
    tiltDeg: row.tiltDeg,
    tiltAzimuthDeg: row.tiltAzimuthDeg,
    epochCount: 1,
    note: '',
    passThrough: [],
    place: { sourceIndex: 0, line: index + 2 },
  };
}
