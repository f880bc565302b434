import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { shapeDoubts } from '../../tasks/bases/place-doubt.js';
import { locateRows } from '../../tasks/plan/targets/locate-rows.js';
import type { RowSystems } from '../../tasks/plan/targets/locate-rows.js';
import type { PlanPlaces } from '../../tasks/plan/targets/plan-targets.js';
import { PLAIN_TABLES, workingFolder } from '../tables/as-it-stands.js';
import { wholePoints } from '../points/whole-points.js';
import { openPlanInput } from './open-plan-input.js';

/**
 * The points, lines and areas of a file to be served: GeoJSON by the extension of its name, else CSV, which has points alone.
 *
 * Given: its path, from the working folder; the systems and geoid that `loadPlan` gives. Returned: what `planTargets` takes. Problems: as of
 * `readPointsFile`; those of `locateRows`, and places that make sense in another reading only.
 *
 * @example
 * const choices = {
 *   baseSigmas: { horizontalM: 0.01, verticalM: 0.02 },
 *   limits: { separationS: null, minEpochs: 1, maxEpochs: 60, maxOccupations: 2 },
 *   ...{ epochCount: 1, baseErrorM: null, acceptsPosition: false },
 * };
 * const session = await readSessionFile('session.toml');
 * const plan = await loadPlan(session.value, choices);
 * const places = await readPlacesFile('../quillback-pan-plan/points.csv', plan.value);
 * const targets = planTargets(plan.value.setup.geodesic, places.value, null, { horizontalM: 0.05, verticalM: 0.1 });
 * targets.value.length; // 8
 */
export async function readPlacesFile(path: string, systems: Omit<RowSystems, 'sources'>): Promise<Outcome<PlanPlaces>> {
  const { grid } = systems;
  const needs = { position: grid === null ? 'geographic' : 'any', height: 'none' } as const;
  const opened = await openPlanInput(path, { tables: PLAIN_TABLES, grid, needs }, workingFolder());
  if (!opened.ok) return opened;
  const { source, shapes, points } = opened.value;
  const { name } = source;
  const read = points === null ? success([]) : await wholePoints(points);
  if (!read.ok) return read;
  const rows = locateRows(read.value, { ...systems, sources: [name] });
  if (!rows.ok) return rows;
  const doubts = shapeDoubts(shapes, systems);
  return doubts.some(({ severity }) => severity === 'error')
    ? failureOf(doubts)
    : success({ rows: rows.value, shapes, name }, [...opened.problems, ...read.problems, ...rows.problems, ...doubts]);
}
