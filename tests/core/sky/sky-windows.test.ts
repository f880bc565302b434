import { describe, expect, it } from 'vitest';
import { REPEAT_MS, repeatByElements, repeatedAt } from '../../../src/core/sky/geometry-repeat.js';
import { skyReasons, skyWindows, windowsVerdict } from '../../../src/core/sky/sky-windows.js';
import type { SkyEpoch } from '../../../src/records/sky/site-sky.js';
import { keplerElements } from '../../support/kepler-elements.js';

const LIMITS = { pdop: 4, satellites: 6 };

function epoch(minute: number, satellites: number, pdop: number | null): SkyEpoch {
  const dilution = pdop === null ? null : { gdop: 9, pdop, hdop: 1, vdop: 1, tdop: 1 };
  return {
    utcMs: minute * 60_000,
    ...{ satellites, satellitesAtSite: satellites, satellitesAtBase: null, bySystem: [satellites, 0, 0, 0, 0] },
    dilution,
    reasons: skyReasons(satellites, pdop, LIMITS),
  };
}

describe('skyReasons', () => {
  it('names every limit that is missed, and none at the limits themselves', () => {
    expect(skyReasons(6, 4, LIMITS)).toEqual([]);
    expect(skyReasons(5, 4.01, LIMITS)).toEqual(['sky-few-satellites', 'sky-high-pdop']);
    expect(skyReasons(9, null, LIMITS)).toEqual(['sky-high-pdop']);
  });
});

describe('skyWindows', () => {
  const windows = skyWindows(
    [epoch(0, 8, 2), epoch(5, 7, 3.5), epoch(10, 5, 3), epoch(15, 4, null), epoch(20, 6, 3.9)],
    25 * 60_000,
  );

  it('ends each window where the next begins, and the last with the plan', () => {
    expect(windows.map(({ fromMs, toMs, isGood }) => [fromMs / 60_000, toMs / 60_000, isGood])).toEqual([
      [0, 10, true],
      [10, 20, false],
      [20, 25, true],
    ]);
  });

  it('holds the worst of each', () => {
    expect(windows.map(({ fewestSatellites }) => fewestSatellites)).toEqual([7, 4, 6]);
    expect(windows.map(({ largestPdop }) => largestPdop)).toEqual([3.5, null, 3.9]);
    expect(windows[1]?.reasons).toEqual(['sky-few-satellites', 'sky-high-pdop']);
  });

  it('asks for a look where some of the time is good, and says no where none is', () => {
    expect(windowsVerdict(windows)).toBe('review');
    expect(windowsVerdict(windows.filter(({ isGood }) => isGood))).toBe('within');
    expect(windowsVerdict(windows.filter(({ isGood }) => !isGood))).toBe('no');
  });
});

describe('the repeat of the sky of GPS', () => {
  it('comes 236 s earlier each day', () => {
    expect(repeatedAt(0, 1)).toBe(86_164_000);
    expect(repeatedAt(0, 7)).toBe(7 * (86_400_000 + REPEAT_MS));
  });

  // Elements of the worked orbit of GPS-LABS, gps_lab01: half a sidereal day less what the plane turns. Literature on sidereal filtering has
  // 240 to 256 s for single satellites, from memory.
  it('comes 240 to 256 s earlier by the elements themselves', () => {
    const worked = keplerElements([
      424_800, 5153.71900558, 0.0161, 0.9678, -2.84, -1.22, -2.23, 4.12374319903e-9, 0, 0, 0, 0, 0, 0, 0, 0,
    ]);
    const found = repeatByElements([worked]);
    expect(found).toBeLessThan(-240);
    expect(found).toBeGreaterThan(-256);
    expect(repeatByElements([{ ...worked, system: 'Galileo' }])).toBeNull();
  });
});
