import type { GridShape } from '../../../core/geoid/grid-level-from.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { IsgHeader } from './isg-header.js';

/** Coordinates of the format carry six decimals of a degree at worst; this is half of the last, with room. */
const WRITTEN_ERROR_DEG = 0.6e-6;

type Convention = 'nodes' | 'edges';

/**
 * Where the nodes of an ISG grid stand. Files give their bounds in two ways: as the positions of the
 * outermost nodes, or as the outer edges of their cells, half a step beyond. Arithmetic decides:
 * (max − min) / delta is one less than the number of rows, or equal to it.
 *
 * Given: the header.
 * Returned: the shape. Steps come from the bounds and the counts, so that a delta with decimals cut
 * off does not add up over the rows.
 * Problems: `grid-unreadable` where neither way fits, or latitude and longitude follow different
 * ways: the grid would be half a cell, or more, out of place.
 */
export function isgNodesOf(header: IsgHeader): Outcome<GridShape> {
  const latitudeSpan = header.latitudeMaxDeg - header.latitudeMinDeg;
  const longitudeSpan = header.longitudeMaxDeg - header.longitudeMinDeg;
  const ofLatitude = conventionOf(latitudeSpan, header.latitudeStepDeg, header.rows);
  const ofLongitude = conventionOf(longitudeSpan, header.longitudeStepDeg, header.columns);
  if (ofLatitude === null || ofLatitude !== ofLongitude) {
    return failure({
      code: 'grid-unreadable',
      severity: 'error',
      message: 'the bounds, steps and counts of the isg grid do not agree',
      received: `latitude ${told(ofLatitude)}, longitude ${told(ofLongitude)}`,
      expected: 'bounds that are all positions of nodes, or all edges of cells',
      hint: 'the grid could be half a cell out of place; ask its publisher',
    });
  }
  const cells = ofLatitude === 'edges' ? 0 : 1;
  const latitudeStepDeg = latitudeSpan / (header.rows - cells);
  const longitudeStepDeg = longitudeSpan / (header.columns - cells);
  const inward = ofLatitude === 'edges' ? 0.5 : 0;
  return success({
    southDeg: header.latitudeMinDeg + inward * latitudeStepDeg,
    westDeg: header.longitudeMinDeg + inward * longitudeStepDeg,
    latitudeStepDeg,
    longitudeStepDeg,
    rows: header.rows,
    columns: header.columns,
  });
}

function conventionOf(spanDeg: number, stepDeg: number, count: number): Convention | null {
  if (!(stepDeg > 0) || !(spanDeg > 0) || !(count >= 2)) return null;
  const steps = spanDeg / stepDeg;
  const tolerance = Math.min(0.25, 1e-3 + (count * WRITTEN_ERROR_DEG) / stepDeg);
  if (Math.abs(steps - (count - 1)) <= tolerance) return 'nodes';
  return Math.abs(steps - count) <= tolerance ? 'edges' : null;
}

function told(convention: Convention | null): string {
  if (convention === null) return 'fits neither way';
  return convention === 'nodes' ? 'gives nodes' : 'gives edges';
}
