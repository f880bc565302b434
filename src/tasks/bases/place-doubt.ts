import { isInsideArea } from '../../core/grid/systems/area-of-use.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import type { GridPair, GridSystem } from '../../core/grid/systems/grid-system.js';
import {
  doubtOfAccepted,
  exchangedPlace,
  implausiblePair,
  lostSign,
} from '../../core/grid/systems/implausible-place.js';
import type { PlanShape } from '../../records/reports/parts/plan-shape.js';
import { warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** The systems a place is judged by: the grid's area of use, else that of the geographic system. */
export interface PlaceSystems {
  readonly grid: GridSystem | null;
  readonly fixesSystem: Pick<GeographicSystem, 'name' | 'areaOfUse'>;
  /** Whether --accept-position was given; absent where the command has no such option. */
  readonly acceptsPosition?: boolean;
}

const IN_DEGREES =
  'exchange the two in the file, or those of points with --columns latitude_deg=HEADER,longitude_deg=HEADER; a GeoJSON position has the longitude first';

/**
 * What speaks against a place of a plan.
 *
 * Given: its name; degrees; the grid pair it was read from, or null where it was given in degrees; the systems.
 * Returned: null inside the area of use, or where none is known; coordinates-swapped or coordinate-implausible where another reading
 * of the numbers lies inside; else the warning coordinate-outside-area.
 */
export function placeDoubt(
  id: string,
  place: { readonly latitudeDeg: number; readonly longitudeDeg: number },
  pair: GridPair | null,
  systems: PlaceSystems,
): Problem | null {
  const { areaOfUse, name } = systems.grid ?? systems.fixesSystem;
  const { latitudeDeg, longitudeDeg } = place;
  const judged = (problem: Problem): Problem =>
    systems.acceptsPosition === undefined ? problem : doubtOfAccepted(problem, systems.acceptsPosition);
  if (areaOfUse === null || isInsideArea(areaOfUse, latitudeDeg, longitudeDeg)) return null;
  if (pair !== null && systems.grid !== null) {
    const reading = implausiblePair(systems.grid, pair.first, pair.second, place, '--system');
    if (reading !== null) return judged(reading);
  } else {
    const reading = exchangedDegrees(latitudeDeg, longitudeDeg, systems);
    if (reading !== null)
      return judged(reading.code === 'coordinates-swapped' ? { ...reading, hint: IN_DEGREES } : reading);
  }
  return warningProblem('coordinate-outside-area', {
    message: `${id} is outside the area of use of ${name}: ${areaOfUse.description}`,
    hint: 'check the zone, and the order and signs of the two',
  });
}

/** coordinates-swapped or coordinate-implausible where degrees fit only when exchanged, or with another sign; else null. */
export function exchangedDegrees(
  latitudeDeg: number,
  longitudeDeg: number,
  { grid, fixesSystem }: PlaceSystems,
): Problem | null {
  const { areaOfUse } = grid ?? fixesSystem;
  const exchanged = areaOfUse === null ? null : exchangedPlace(areaOfUse, latitudeDeg, longitudeDeg);
  if (exchanged !== null || fixesSystem.areaOfUse === null) return exchanged;
  return lostSign(fixesSystem.areaOfUse, latitudeDeg, longitudeDeg);
}

/** The first doubt about a corner of each shape, located; corners are always in degrees. */
export function shapeDoubts(shapes: readonly PlanShape[], systems: PlaceSystems): readonly Problem[] {
  return shapes.flatMap((shape) => {
    for (const vertex of [...shape.lines.flat(), ...shape.polygons.flat(2)]) {
      const doubt = placeDoubt(shape.id, vertex, null, systems);
      if (doubt !== null) return [{ ...doubt, where: { source: shape.source, path: shape.path } }];
    }
    return [];
  });
}
