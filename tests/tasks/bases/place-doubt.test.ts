import { describe, expect, it } from 'vitest';
import { loadGeographicSystem, loadGridSystem } from '../../../src/files/systems/load-systems.js';
import { placeDoubt, shapeDoubts } from '../../../src/tasks/bases/place-doubt.js';
import { valueOf } from '../../support/shift-of-row.js';

const grid = valueOf(loadGridSystem('EPSG:2049'));
const LO21 = { grid, fixesSystem: grid.base };
const IN_DEGREES = { grid: null, fixesSystem: valueOf(loadGeographicSystem('EPSG:4148')) };

function codeAt(
  latitudeDeg: number,
  longitudeDeg: number,
  systems: Parameters<typeof placeDoubt>[3],
): string | undefined {
  return placeDoubt('P', { latitudeDeg, longitudeDeg }, null, systems)?.code;
}

describe('the place of a plan', () => {
  it('is not doubted inside the area of use, nor where none is known', () => {
    expect(codeAt(-31.5, 21.4, LO21)).toBeUndefined();
    expect(codeAt(31.5, -21.4, { grid: null, fixesSystem: { name: 'anywhere', areaOfUse: null } })).toBeUndefined();
  });

  it('is refused where it fits only with latitude and longitude exchanged, or a sign turned', () => {
    expect(codeAt(21.4, -31.5, LO21)).toBe('coordinates-swapped');
    expect(codeAt(21.4, -31.5, IN_DEGREES)).toBe('coordinates-swapped');
    expect(codeAt(31.5, 21.4, LO21)).toBe('coordinate-implausible');
    expect(codeAt(-31.5, -21.4, IN_DEGREES)).toBe('coordinate-implausible');
  });

  it('is refused where its grid pair fits only with the axes exchanged, and the option named exists', () => {
    const held = { latitudeDeg: 0, longitudeDeg: 0 };
    expect(grid.inverse(38_000, -3_486_480, held)).toBe('ok');
    const doubt = placeDoubt('P', held, { first: 38_000, second: -3_486_480 }, LO21);
    expect(doubt?.code).toBe('coordinate-implausible');
    expect(doubt?.hint).toContain('--system');
  });

  it('is warned of where it is outside and no other reading fits', () => {
    const doubt = placeDoubt('P', { latitudeDeg: -31.5, longitudeDeg: 23 }, null, LO21);
    expect(doubt).toMatchObject({ code: 'coordinate-outside-area', severity: 'warning' });
  });

  it('is looked at in every corner of a line, and a line is doubted once', () => {
    const vertex = (longitudeDeg: number) => ({ latitudeDeg: -31.5, longitudeDeg, ellipsoidalHeightM: null });
    const road = {
      id: 'road',
      kind: 'line',
      lines: [[vertex(21.9), vertex(22.5), vertex(22.6)]],
      polygons: [],
      toleranceHorizontalM: null,
      toleranceVerticalM: null,
      source: 'work.geojson',
      path: 'features[2]',
    } as const;
    expect(shapeDoubts([road], LO21)).toMatchObject([
      { code: 'coordinate-outside-area', where: { source: 'work.geojson', path: 'features[2]' } },
    ]);
    expect(shapeDoubts([{ ...road, lines: [[vertex(21.9), vertex(21.95)]] }], LO21)).toEqual([]);
  });
});
