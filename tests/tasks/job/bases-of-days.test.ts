import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { present } from '../../../src/records/present.js';
import type { BaseSettings } from '../../../src/records/session.js';
import { prepareBases } from '../../../src/tasks/bases/prepare-bases.js';
import type { PreparedBase } from '../../../src/tasks/bases/prepare-bases.js';
import { basesAgree } from '../../../src/tasks/job/bases-of-days.js';

const HOUR_MS = 3_600_000;
/** A radian of the earth: northward metres to degrees, to a third of a percent. */
const METRES_PER_DEGREE = 111_250;

interface Change extends Partial<BaseSettings> {
  readonly northM?: number;
  readonly upM?: number;
}

function base(change: Change = {}): readonly PreparedBase[] {
  const { northM = 0, upM = 0, ...settings } = change;
  const known = {
    kind: 'geodetic',
    latitudeDeg: 51.05 + northM / METRES_PER_DEGREE,
    longitudeDeg: 13.7,
    ellipsoidalHeightM: 200 + upM,
    at: 'mark',
  } as const;
  const made = prepareBases(
    [
      {
        id: 'B1',
        day: 'a',
        fromMs: null,
        toMs: null,
        broadcast: { ...known, latitudeDeg: 51.05001 },
        known,
        antennaHeight: { kind: 'vertical', heightM: 1.6 },
        phaseCentreOffsetM: 0,
        sigmaHorizontalM: 0.005,
        sigmaVerticalM: 0.008,
        antennaHeightSigmaM: null,
        centringSigmaM: null,
        ...settings,
      },
    ],
    { ellipsoid: WGS84, grid: null, geoid: null },
  );
  return present(made.ok ? made.value : null, 'bases');
}

const DAYS: Parameters<typeof basesAgree>[0] = [
  { id: 'a', date: null },
  { id: 'b', date: null },
];

/** What is said of a base of two days, the second with these changes: severity and code. */
function said(second: Change, first: Change = {}, days: Parameters<typeof basesAgree>[0] = DAYS): readonly string[] {
  const setups = [{ bases: base({ day: 'a', ...first }) }, { bases: base({ day: 'b', ...second }) }];
  return basesAgree(days, setups, WGS84).problems.map(({ severity, code }) => `${severity} ${code}`);
}

describe('basesAgree', () => {
  it('has nothing against one mark set up anew, or another place of the same name', () => {
    expect(said({ antennaHeight: { kind: 'vertical', heightM: 1.5 } })).toEqual([]);
    expect(said({ northM: 6 })).toEqual([]);
    expect(said({ id: 'B2', northM: 0.03 })).toEqual([]);
    expect(said({ northM: 0.0004 })).toEqual([]);
  });

  it('refuses a coordinate typed otherwise, beyond three sigmas of both: 21 mm in plan, 34 mm in height', () => {
    expect(said({ northM: 0.03 })).toEqual(['error base-known-twice']);
    expect(said({ upM: 0.04 })).toEqual(['error base-known-twice']);
    expect(said({ northM: 0.015 })).toEqual(['warning base-known-twice']);
    expect(said({ northM: 0.03, sigmaHorizontalM: 0.05 })).toEqual(['warning base-known-twice']);
    expect(said({ northM: 1.5 })).toEqual(['warning base-known-twice']);
  });

  it('says nothing of coordinates that were measured, or are not known', () => {
    expect(
      said({ northM: 0.03, known: null, broadcast: base({ northM: 0.03 })[0]?.settings.broadcast as never }),
    ).toEqual([]);
    expect(said({ northM: 0.03, knownFrom: { point: 'P', day: 'a' } })).toEqual([]);
  });

  it('refuses two antenna heights at one time, and warns of one set-up described twice', () => {
    const morning = { fromMs: 0, toMs: 6 * HOUR_MS };
    const noon = { fromMs: 5 * HOUR_MS, toMs: 9 * HOUR_MS };
    const evening = { fromMs: 6 * HOUR_MS, toMs: 9 * HOUR_MS };
    const higher = { antennaHeight: { kind: 'vertical', heightM: 1.63 } } as const;
    expect(said({ ...noon, ...higher }, morning)).toEqual(['error base-set-ups-contradict']);
    expect(said(noon, morning)).toEqual(['warning base-set-up-repeated']);
    expect(said({ ...evening, ...higher }, morning)).toEqual([]);
    // Two bases whose receivers have one name, kilometres apart: each crew has its own.
    expect(said({ ...noon, ...higher, northM: 5000 }, morning)).toEqual([]);
  });

  it('goes by the dates of the days where no windows are given', () => {
    const crews = (date: string): typeof DAYS => [
      { id: 'a', date: '2026-05-04' },
      { id: 'b', date: date },
    ];
    const higher = { antennaHeight: { kind: 'vertical', heightM: 1.63 } } as const;
    expect(said(higher, {}, crews('2026-05-04'))).toEqual(['error base-set-ups-contradict']);
    expect(said(higher, {}, crews('2026-05-05'))).toEqual([]);
  });

  it('takes a base that all days share for one, and a day that is not set up yet for none', () => {
    const shared = base({ fromMs: 0, toMs: HOUR_MS });
    const [only] = shared;
    const { day: _, ...settings } = present(only, 'a base').settings;
    const one = { bases: [{ ...present(only, 'a base'), settings }] };
    expect(basesAgree(DAYS, [one, one], WGS84).problems).toEqual([]);
    expect(basesAgree(DAYS, [one, null], WGS84).problems).toEqual([]);
  });
});
