import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { buildGridSystem } from '../../../src/core/grid/systems/build-grid-system.js';
import { definitionFromProjString } from '../../../src/core/projection/definition/definition-from-proj-string.js';
import { figureArea } from '../../../src/tasks/join/figure-area.js';
import { valueOf } from '../../core/grid/systems.js';

const geodesic = createGeodesic(GRS80);
const gridIn = (units: string) =>
  valueOf(
    buildGridSystem(
      valueOf(
        definitionFromProjString(
          `+proj=tmerc +lat_0=0 +lon_0=15 +k=1 +x_0=500000 +y_0=0 +ellps=GRS80 +units=${units} +no_defs`,
        ),
      ),
      null,
    ),
  );

/** A rectangle of a grid about its central meridian, sides in the unit of the grid. */
function rectangle(units: string, wide: number, high: number, isTurned = false) {
  const grid = gridIn(units);
  const [east, north] = [500_000 / grid.axes[0].metresPerUnit, 5_200_000 / grid.axes[0].metresPerUnit];
  const corners = [
    [0, 0],
    [wide, 0],
    [wide, high],
    [0, high],
  ].map(([x = 0, y = 0], at) => {
    const place = { latitudeDeg: 0, longitudeDeg: 0 };
    const [gridFirst, gridSecond] = [east + x, north + y];
    grid.inverse(gridFirst, gridSecond, place);
    return { ...place, pointId: String(at), gridFirst, gridSecond, ellipsoidalHeightM: null } as never;
  });
  return valueOf(figureArea(isTurned ? corners.toReversed() : corners, { grid, geodesic }));
}

describe('the area of a figure on a grid', () => {
  // Sides times each other and sides together, whatever the unit; 0.3048 m in a foot, 1200/3937 m in a US survey foot (by definition).
  it.each([
    ['m', 1],
    ['ft', 0.3048],
    ['us-ft', 1200 / 3937],
  ])('in %s is in square metres, its sides in metres', (units, metres) => {
    const { gridAreaM2, gridPerimeterM, isClockwise } = rectangle(units, 120, 50);
    expect(gridAreaM2 / (6000 * metres * metres)).toBeCloseTo(1, 9);
    expect(gridPerimeterM / (340 * metres)).toBeCloseTo(1, 9);
    expect(isClockwise).toBe(false);
    expect(rectangle(units, 120, 50, true)).toMatchObject({ isClockwise: true });
  });
});
