import { describe, expect, it } from 'vitest';
import { loadGridSystem } from '../../../../src/files/systems/load-systems.js';
import { neighbourZones } from '../../../../src/tasks/check/judge/neighbour-zones.js';
import { valueOf } from '../../../support/shift-of-row.js';

const close = (value: number, digits = 9): unknown => expect.closeTo(value, digits);

describe('zones beside the one of a grid', () => {
  const names = (system: string): readonly string[] =>
    neighbourZones(valueOf(loadGridSystem(system))).map(({ name }) => name);
  it('are those of central meridians up to six degrees away, or of two zones to either side', () => {
    expect(names('+proj=tmerc +lat_0=0 +lon_0=9 +k=1 +x_0=0 +y_0=0 +ellps=GRS80 +units=m')).toEqual(
      [3, 5, 6, 7, 8, 10, 11, 12, 13, 15].map((meridian) => `central meridian ${String(meridian)}`),
    );
    expect(names('+proj=utm +zone=32 +ellps=GRS80 +units=m')).toEqual(
      [30, 31, 33, 34].map((zone) => `zone ${String(zone)}`),
    );
    // There is no zone 61.
    expect(names('+proj=utm +zone=60 +ellps=GRS80 +units=m')).toEqual(['zone 58', 'zone 59']);
  });

  it('have the coordinates of their own meridian', () => {
    const [, , , , , east] = neighbourZones(
      valueOf(loadGridSystem('+proj=tmerc +lat_0=0 +lon_0=-9.5 +k=1 +x_0=500000 +y_0=0 +ellps=GRS80 +units=m')),
    );
    expect(east?.name).toBe('central meridian -8.5');
    const pair = { first: 0, second: 0 };
    expect(east?.forward(0, -8.5, pair)).toBe('ok');
    expect(pair).toEqual({ first: close(500_000, 6), second: close(0, 6) });
  });
});
