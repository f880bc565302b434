import { describe, expect, it } from 'vitest';
import { geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { localFrameAt, localToGeocentric } from '../../../src/core/ellipsoid/local-frame.js';
import type { CorrectionAudit, SentPosition, StationAudit } from '../../../src/records/corrections/correction-audit.js';
import type { LocalVector } from '../../../src/records/points/point.js';
import { holdBroadcasts } from '../../../src/tasks/corrections/hold-broadcast.js';
import type { HeldBase } from '../../../src/tasks/corrections/hold-broadcast.js';

const PLACE = { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000 };
const FRAME = localFrameAt(PLACE.latitudeDeg, PLACE.longitudeDeg);
const ARP = geodeticToGeocentric(PLACE, WGS84);

const moved = (by: LocalVector): typeof ARP => {
  const step = localToGeocentric(FRAME, by);
  return { xM: ARP.xM + step.xM, yM: ARP.yM + step.yM, zM: ARP.zM + step.zM };
};
const off = (eastM: number, northM: number, upM: number): LocalVector => ({ eastM, northM, upM });

const base = (more: Partial<HeldBase> = {}): HeldBase => ({
  id: 'B1',
  fromMs: null,
  toMs: null,
  broadcastArp: ARP,
  frame: FRAME,
  antennaHeightM: 1.6,
  dayHeld: null,
  ...more,
});

function position(by: LocalVector, antennaHeightM: number | null, more: Partial<SentPosition> = {}): SentPosition {
  const arp = moved(by);
  const mark = antennaHeightM === null ? null : moved({ ...by, upM: by.upM - antennaHeightM });
  const plain = { itrfYear: 0, isComputed: false, quarterCycle: 0, firstMs: 0, lastMs: 10_000, count: 2 };
  return { arp, geodetic: PLACE, antennaHeightM, mark, markGeodetic: null, ...plain, ...more };
}

function audit(...stations: readonly (readonly [number, readonly SentPosition[]])[]): CorrectionAudit {
  return {
    calendar: {
      zeroMs: Date.UTC(2026, 2, 1),
      dateFrom: 'option',
      leapSeconds: 18,
      leapFrom: 'table',
      statedOffS: null,
    },
    stations: stations.map(
      ([stationId, listed]) => ({ stationId, positions: { listed, leftOut: 0 } }) as unknown as StationAudit,
    ),
  } as unknown as CorrectionAudit;
}

describe('holdBroadcasts', () => {
  it('says within where what was sent is what the session says, to the millimetre', () => {
    const [check] = holdBroadcasts(audit([7, [position(off(0.0004, -0.0004, 0.0004), 1.6)]]), [base()], 0.001);
    expect(check).toMatchObject({ verdict: 'within', reasons: [], line: null, sent: { matchedBy: 'only-one' } });
  });

  it('gives the difference in east, north and up, of the antenna and of the mark', () => {
    const [check] = holdBroadcasts(audit([7, [position(off(0.3, -0.2, 0.1), 1.55)]]), [base()], 0.001);
    expect(check?.verdict).toBe('no');
    expect(check?.reasons).toEqual(['broadcast-differs', 'broadcast-antenna-height']);
    expect(check?.sent?.arp.eastM).toBeCloseTo(0.3, 9);
    expect(check?.sent?.arp.northM).toBeCloseTo(-0.2, 9);
    expect(check?.sent?.arp.upM).toBeCloseTo(0.1, 9);
    // The mark sent lies under 1.55 m, that of the session under 1.6 m: 0.05 m higher.
    expect(check?.sent?.mark?.upM).toBeCloseTo(0.15, 9);
  });

  it('prints the line that holds what was sent', () => {
    const [check] = holdBroadcasts(audit([7, [position(off(1, 0, 0), null)]]), [base()], 0.001);
    const { xM, yM, zM } = moved(off(1, 0, 0));
    expect(check?.line).toBe(
      `broadcast = { x_m = ${xM.toFixed(4)}, y_m = ${yM.toFixed(4)}, z_m = ${zM.toFixed(4)}, at = "arp" }`,
    );
    expect(check?.sent?.mark).toBeNull();
  });

  it('knows a coordinate of the mark, and a height that was put on twice', () => {
    const cause = (up: number): string | null | undefined =>
      holdBroadcasts(audit([7, [position(off(0, 0, up), 1.6)]]), [base()], 0.001)[0]?.cause;
    expect(cause(-1.6)).toContain('mark was entered');
    expect(cause(1.6)).toContain('twice');
    expect(cause(0.5)).toBeNull();
  });

  it('asks for a review where a base sends no height, and says no where it sends another', () => {
    const verdict = (height: number | null): string | undefined =>
      holdBroadcasts(audit([7, [position(off(0, 0, 0), height)]]), [base()], 0.001)[0]?.verdict;
    expect(verdict(null)).toBe('within');
    expect(verdict(0)).toBe('review');
    expect(verdict(1.653)).toBe('no');
  });

  it('takes the station of the number of a base, else the nearest', () => {
    const streams = audit([7, [position(off(0, 0, 0), 1.6)]], [12, [position(off(500, 0, 0), 1.6)]]);
    const [numbered] = holdBroadcasts(streams, [base({ id: '0012' })], 0.001);
    expect(numbered?.sent).toMatchObject({ stationId: 12, matchedBy: 'id' });
    const [near] = holdBroadcasts(streams, [base()], 0.001);
    expect(near?.sent).toMatchObject({ stationId: 7, matchedBy: 'nearest' });
  });

  it('holds no base against what another base of its time sent', () => {
    const away = base({ id: 'B2', broadcastArp: moved(off(5000, 0, 0)), antennaHeightM: 1.5 });
    const streams = audit([7, [position(off(0.3, 0, 0), 1.6)]]);
    expect(
      holdBroadcasts(streams, [base(), away], 0.001).map(({ baseId, reasons, line }) => [
        baseId,
        reasons,
        line === null,
      ]),
    ).toEqual([
      ['B1', ['broadcast-differs'], false],
      ['B2', ['broadcast-not-sent'], true],
    ]);
    // Alone it differs, and so it does by its number, and beside a base of the same place.
    expect(holdBroadcasts(streams, [away], 0.001)[0]?.verdict).toBe('no');
    expect(holdBroadcasts(streams, [base(), { ...away, id: '7' }], 0.001)[1]?.verdict).toBe('no');
    const beside = base({ id: 'B2', broadcastArp: moved(off(0.3, 0, 0)) });
    expect(holdBroadcasts(streams, [base(), beside], 0.001).map(({ verdict }) => verdict)).toEqual(['no', 'within']);
    // What another base sent before its own time may still be its.
    const later = base({ fromMs: Date.UTC(2026, 2, 2) });
    expect(holdBroadcasts(streams, [later, away], 0.001)[1]?.verdict).toBe('no');
  });

  it('holds a base against what was sent in its time, each coordinate by itself', () => {
    const day = Date.UTC(2026, 2, 1);
    const first = position(off(0, 0, 0), 1.6, { firstMs: 18_000, lastMs: 3_600_000 });
    const second = position(off(1, 0, 0), 1.6, { firstMs: 3_700_000, lastMs: 7_200_000 });
    const streams = audit([7, [first, second]]);
    const of = (fromMs: number | null, toMs: number | null): readonly string[] =>
      holdBroadcasts(streams, [base({ fromMs, toMs })], 0.001).map(({ verdict }) => verdict);
    expect(of(null, null)).toEqual(['within', 'no']);
    expect(of(day, day + 3_600_000)).toEqual(['within']);
    expect(of(day + 3_690_000, null)).toEqual(['no']);
    expect(of(day + 9_000_000, null)).toEqual(['review']);
  });

  it('says that nothing was sent where no station sends a coordinate', () => {
    expect(holdBroadcasts(audit([7, []]), [base()], 0.001)).toEqual([
      { baseId: 'B1', sent: null, verdict: 'review', reasons: ['broadcast-not-sent'], cause: null, line: null },
    ]);
  });
});
