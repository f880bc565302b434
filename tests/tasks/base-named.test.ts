import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../src/core/ellipsoid/ellipsoid.js';
import { baseNamed } from '../../src/tasks/bases/choose-base.js';
import { prepareBases } from '../../src/tasks/bases/prepare-bases.js';
import type { PreparedBase } from '../../src/tasks/bases/prepare-bases.js';
import { readSession } from '../../src/io/settings/session-read.js';

const HOUR_MS = 3_600_000;
const DAY_MS = Date.UTC(2026, 2, 4);

/** Two set-ups of one name, a kilometre apart, in the morning and in the afternoon. */
function twoSetUps(): readonly PreparedBase[] {
  const entry = (from: string, to: string, latitude: number): string => `
[[base]]
id = "B1"
from_utc = "2026-03-04T${from}:00:00Z"
to_utc = "2026-03-04T${to}:00:00Z"
broadcast = { latitude_deg = ${latitude}, longitude_deg = 21.4, ellipsoidal_height_m = 1043.2, at = "arp" }
`;
  const session = readSession(`version = 1\n${entry('06', '10', -31.5)}${entry('11', '15', -31.51)}`, 'day.toml');
  if (!session.ok) throw new Error(session.problems[0]?.message);
  const bases = prepareBases(session.value.bases, { ellipsoid: WGS84, grid: null, geoid: null });
  if (!bases.ok) throw new Error(bases.problems[0]?.message);
  return bases.value;
}

function stand(baseId: string, firstEpochMs: number | null, occupation = '1'): Parameters<typeof baseNamed>[0] {
  return { baseId, firstEpochMs, occupation };
}

describe('the base of a point that names it', () => {
  // 2026-11-25: the first set-up of the name was taken whatever the time, and with it its place.
  it('is the set-up that was running at the time', () => {
    const bases = twoSetUps();
    expect(baseNamed(stand('B1', DAY_MS + 7 * HOUR_MS), bases)?.origin.geodetic.latitudeDeg).toBe(-31.5);
    expect(baseNamed(stand('B1', DAY_MS + 12 * HOUR_MS), bases)?.origin.geodetic.latitudeDeg).toBe(-31.51);
  });
  it('is not known between the set-ups, without a time, or under another name', () => {
    const bases = twoSetUps();
    expect(baseNamed(stand('B1', DAY_MS + 10.5 * HOUR_MS), bases)).toBeUndefined();
    expect(baseNamed(stand('B1', null), bases)).toBeUndefined();
    expect(baseNamed(stand('B2', DAY_MS + 7 * HOUR_MS), bases)).toBeUndefined();
  });
  it('is the only set-up of its name, whatever the time', () => {
    expect(baseNamed(stand('B1', null), twoSetUps().slice(0, 1))?.settings.id).toBe('B1');
  });
  it('is of the day that its occupation names, in a job', () => {
    const [first, second] = twoSetUps();
    if (first === undefined || second === undefined) throw new Error('two set-ups');
    const days = [first, second].map((base, index) => ({
      ...base,
      settings: { ...base.settings, fromMs: null, toMs: null, day: index === 0 ? 'mon' : 'tue' },
    }));
    expect(baseNamed(stand('B1', null, 'mon/1'), days)?.settings.day).toBe('mon');
    expect(baseNamed(stand('B1', null, 'tue/2+tue/3'), days)?.settings.day).toBe('tue');
    expect(baseNamed(stand('B1', null, 'mon/1+tue/1'), days)).toBeUndefined();
    expect(baseNamed(stand('B1', null, '1'), days)).toBeUndefined();
  });
});
