import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import type { Fix } from '../../../src/records/points/fix.js';
import type { AcceptanceSettings } from '../../../src/records/session.js';
import { createStandScreen } from '../../../src/tasks/repeats/screen-stands.js';
import { makeFix } from '../../core/observation/make-fix.js';
import { NORMAL_PRECISION } from '../../support/check-setup.js';
import { seededRandom } from '../../support/seeded-random.js';

const LIMITS: AcceptanceSettings = {
  solution: ['fixed'],
  maxPdop: null,
  maxCorrectionAgeS: null,
  minSatellites: null,
  maxTiltDeg: null,
  maxBaselineM: null,
  minEpochs: 10,
  minDurationS: 10,
  maxSigmaHorizontalM: null,
  maxSigmaVerticalM: null,
  occupationGapS: 60,
};
const precision = NORMAL_PRECISION;
const METRE_DEG = 1 / 111_000;

/** Seconds of one stand; `east` is where the antenna is, metres. */
function stand(
  pointId: string,
  startS: number,
  seconds: number,
  east: (second: number) => number = () => 0,
  own: Partial<Fix> = {},
): readonly Fix[] {
  const random = seededRandom(startS + seconds);
  return Array.from({ length: seconds }, (_, i) =>
    makeFix({
      pointId,
      epochMs: (startS + i) * 1000,
      geodetic: {
        latitudeDeg: 0.002 * random.normal() * METRE_DEG,
        longitudeDeg: 10 + (east(i) + 0.002 * random.normal()) * METRE_DEG,
        ellipsoidalHeightM: 100 + 0.003 * random.normal(),
      },
      solution: 'fixed',
      ...own,
    }),
  );
}

function screenOf(
  fixes: readonly Fix[],
  refuse: (fix: Fix) => boolean = () => false,
): ReturnType<typeof createStandScreen> {
  const screen = createStandScreen(LIMITS, WGS84, precision);
  for (const fix of fixes) screen.push(fix, refuse(fix) ? ['epoch-not-fixed'] : [], 1000);
  screen.finish();
  return screen;
}

const at = (screen: ReturnType<typeof createStandScreen>, code: 'point-too-few-epochs'): unknown =>
  Object.fromEntries(screen.stands.get(code) ?? []);

describe('createStandScreen', () => {
  it('says nothing of a stand that holds still for long enough', () => {
    const screen = screenOf(stand('A', 0, 30));
    expect([screen.standCount(), screen.epochs.size, screen.stands.size]).toEqual([1, 0, 0]);
  });

  it('numbers the stands of a point and names the one that is too short', () => {
    const screen = screenOf([...stand('A', 0, 30), ...stand('A', 500, 6), ...stand('B', 510, 30)]);
    expect(screen.standCount()).toBe(3);
    expect(at(screen, 'point-too-few-epochs')).toEqual({ 'A@2': 6 });
    expect([...screen.stands.keys()].sort()).toEqual(['point-too-few-epochs', 'point-too-short']);
  });

  it('knows the tilt of a stand from its accepted epochs, where all of them state one', () => {
    const tilted = stand('A', 0, 30).map((fix, i) => ({ ...fix, tiltDeg: i < 15 ? 9 : 11, tiltAzimuthDeg: 0 }));
    const partly = stand('B', 100, 20).map((fix, i) => ({ ...fix, tiltDeg: i === 3 ? null : 5 }));
    const refused = stand('C', 200, 20).map((fix, i) => ({ ...fix, tiltDeg: i === 3 ? 60 : 2 }));
    const screen = screenOf(
      [...tilted, ...partly, ...refused, ...stand('D', 300, 20)],
      ({ tiltDeg }) => tiltDeg === 60,
    );
    expect(Object.fromEntries(screen.tilts)).toEqual({ 'A@1': 10, 'C@1': 2 });
  });

  it('counts refusals by stand, and names a stand of which nothing is left', () => {
    const screen = screenOf(
      [...stand('A', 0, 30), ...stand('B', 100, 20)],
      ({ pointId, epochMs }) => pointId === 'B' || epochMs === 3000,
    );
    expect(Object.fromEntries(screen.epochs.get('epoch-not-fixed') ?? [])).toEqual({ 'A@1': 1, 'B@1': 20 });
    expect(Object.fromEntries(screen.stands.get('point-no-accepted-epoch') ?? [])).toEqual({ 'B@1': 0 });
  });

  it('finds an antenna that walked and a lone outlier, and looks for neither on a leaning pole', () => {
    const walked = stand('W', 0, 40, (i) => 0.5 * i);
    const jumped = stand('J', 100, 40, (i) => (i === 20 ? 0.3 : 0));
    const screen = screenOf([...walked, ...jumped]);
    expect(Object.fromEntries(screen.stands.get('point-antenna-moving') ?? [])).toEqual({ 'W@1': 40 });
    expect(screen.epochs.get('epoch-outlier')?.get('J@1')).toBeGreaterThanOrEqual(1);
    const leaning = screenOf([...walked, ...jumped].map((fix) => ({ ...fix, tiltDeg: 10, tiltAzimuthDeg: 0 })));
    expect([leaning.epochs.size, leaning.stands.size]).toEqual([0, 0]);
  });
});
