import { describe, expect, it } from 'vitest';
import { loadGridSystem } from '../../../../src/files/systems/load-systems.js';
import { toEastNorth } from '../../../../src/core/adjustment/site/site-axes.js';
import { otherZones } from '../../../../src/tasks/site/doubts/other-zones.js';
import type { ZonePair } from '../../../../src/tasks/site/doubts/other-zones.js';
import { valueOf } from '../../../support/shift-of-row.js';

/** A few places in a grid, as control would hold them. */
function control(system: string, places: readonly (readonly [number, number])[]): readonly ZonePair[] {
  const grid = valueOf(loadGridSystem(system));
  const pair = { first: 0, second: 0 };
  return places.map(([latitudeDeg, longitudeDeg]) => {
    expect(grid.forward(latitudeDeg, longitudeDeg, pair)).toBe('ok');
    const axes = {
      columns: [grid.axes[0].columnName, grid.axes[1].columnName],
      metresPerUnit: grid.axes[0].metresPerUnit,
    } as const;
    return { latitudeDeg, longitudeDeg, control: toEastNorth(axes, pair.first, pair.second) };
  });
}

const KAROO = [
  [-31.46, 21.33],
  [-31.44, 21.36],
  [-31.45, 21.4],
] as const;
const FIJI = [
  [-17.8, 179.4],
  [-17.7, 179.5],
] as const;
const ALPS = [
  [46.9, 8.2],
  [46.95, 8.3],
] as const;

const westings = (meridianDeg: number): string =>
  `+proj=tmerc +axis=wnu +lat_0=-31 +lon_0=${String(meridianDeg)} +k_0=1 +x_0=-50000 +y_0=1000 +ellps=WGS84`;

describe('the grid that control is in', () => {
  it.each([
    ['the next zone, south-orientated', 'EPSG:2049', 'EPSG:2050', KAROO, ['central meridian 23°']],
    ['the zone two on', 'EPSG:2049', 'EPSG:2051', KAROO, ['central meridian 25°']],
    ['a UTM zone, beside a south-orientated grid', 'EPSG:2049', 'EPSG:32734', KAROO, ['UTM zone 34S']],
    ['the same zone of the other hemisphere', 'EPSG:32734', 'EPSG:32634', KAROO, ['UTM zone 34N']],
    ['a south-orientated zone, beside UTM', 'EPSG:32734', 'EPSG:2049', KAROO, ['Lo21, south-orientated']],
    ['a UTM zone of another datum, beside an oblique Mercator grid', 'EPSG:2056', 'EPSG:25832', ALPS, ['UTM zone 32N']],
    ['the next zone, of westings and northings', westings(21), westings(23), KAROO, ['central meridian 23°']],
    ['a zone over the 180th meridian', 'EPSG:32701', 'EPSG:32760', FIJI, ['central meridian 177°']],
  ] as const)('is named: %s', (_, measured, system, places, expected) => {
    expect(otherZones(valueOf(loadGridSystem(measured)), control(system, places))).toEqual(expected);
  });

  it('is no other where the control is in the grid itself, or in none of them', () => {
    const grid = valueOf(loadGridSystem('EPSG:2049'));
    expect(otherZones(grid, control('EPSG:2049', KAROO))).toEqual([]);
    expect(
      otherZones(
        grid,
        control('EPSG:2049', KAROO).map((pair) => ({
          ...pair,
          control: { eastM: pair.control.eastM + 5000, northM: pair.control.northM },
        })),
      ),
    ).toEqual([]);
    expect(otherZones(grid, [])).toEqual([]);
  });
});
