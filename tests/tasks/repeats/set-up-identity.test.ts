import { describe, expect, it } from 'vitest';
import type { BaseSettings } from '../../../src/records/session.js';
import { setUpIdentities } from '../../../src/tasks/repeats/set-up-identity.js';

const PLACE = { xM: 5_076_546.2, yM: 1_967_942.7, zM: -3_312_997.1 };
const ELSEWHERE = { ...PLACE, xM: PLACE.xM + 0.003 };

function settings(change: Partial<BaseSettings> = {}): BaseSettings {
  const coordinate = { kind: 'geocentric', at: 'mark', ...PLACE } as const;
  return {
    id: 'B1',
    fromMs: null,
    toMs: null,
    broadcast: coordinate,
    known: coordinate,
    antennaHeight: { kind: 'vertical', heightM: 1.6 },
    phaseCentreOffsetM: 0,
    sigmaHorizontalM: 0.01,
    sigmaVerticalM: 0.02,
    antennaHeightSigmaM: null,
    centringSigmaM: null,
    ...change,
  };
}

const morning = settings({ toMs: 0 });
const evening = settings({ fromMs: 1, antennaHeight: { kind: 'vertical', heightM: 1.7 } });

describe('setUpIdentities', () => {
  it('tells set-ups of one name apart by window, place and antenna height', () => {
    const keyOf = (change: Partial<BaseSettings>, place = PLACE): string =>
      setUpIdentities([{ settings: settings(change), place }])[0]?.setupKey ?? '';
    const keys = [
      keyOf({}),
      keyOf({ toMs: 0 }),
      keyOf({ fromMs: 0 }),
      keyOf({}, ELSEWHERE),
      keyOf({ antennaHeight: { kind: 'vertical', heightM: 1.7 } }),
      keyOf({ id: 'B2' }),
    ];
    expect(new Set(keys).size).toBe(keys.length);
  });

  it('names set-ups of one id by their time, and one alone by its id', () => {
    const names = setUpIdentities(
      [morning, evening, settings({ id: 'B2' })].map((own) => ({ settings: own, place: PLACE })),
    ).map(({ setupName }) => setupName);
    expect(names).toEqual(['B1 to 1970-01-01T00:00:00Z', 'B1 from 1970-01-01T00:00:00.001Z', 'B2']);
  });

  it('tells what a day describes from what another day does, on one mark', () => {
    const [monday, tuesday, standing] = setUpIdentities(
      [settings({ day: 'mon' }), settings({ day: 'tue' }), settings()].map((own) => ({ settings: own, place: PLACE })),
    );
    expect(monday?.markKey).toBe(tuesday?.markKey);
    expect(new Set([monday?.setupKey, tuesday?.setupKey, standing?.setupKey]).size).toBe(3);
    expect([monday?.setupName, tuesday?.setupName]).toEqual(['B1 on mon', 'B1 on tue']);
  });

  it('gives set-ups on one mark one mark, whatever they are called, and others another', () => {
    const [a, b, c] = setUpIdentities([
      { settings: morning, place: PLACE },
      { settings: settings({ id: 'B2' }), place: { ...PLACE, zM: PLACE.zM + 0.0004 } },
      { settings: evening, place: ELSEWHERE },
    ]);
    expect(a?.markKey).toBe(b?.markKey);
    expect(a?.markKey).not.toBe(c?.markKey);
  });

  it('keeps the stated sigma as the total of mark and set-up', () => {
    for (const { settings: own, share } of [
      { settings: settings(), share: [0.0015, 0.002] },
      { settings: settings({ antennaHeightSigmaM: 0.005, centringSigmaM: 0.003 }), share: [0.003, 0.005] },
      // Larger than the whole: then the whole is the set-up's.
      { settings: settings({ antennaHeightSigmaM: 0.05 }), share: [0.0015, 0.02] },
      // Of a coordinate at the antenna neither is a part.
      { settings: settings({ known: { kind: 'geocentric', at: 'arp', ...PLACE } }), share: [0, 0] },
    ]) {
      const found = setUpIdentities([{ settings: own, place: PLACE }])[0];
      expect(found?.setup.horizontalM).toBeCloseTo(share[0] ?? NaN, 12);
      expect(found?.setup.verticalM).toBeCloseTo(share[1] ?? NaN, 12);
      expect(Math.hypot(found?.mark.horizontalM ?? 0, found?.setup.horizontalM ?? 0)).toBeCloseTo(0.01, 12);
      expect(Math.hypot(found?.mark.verticalM ?? 0, found?.setup.verticalM ?? 0)).toBeCloseTo(0.02, 12);
    }
  });

  it('shares between set-ups of one mark what the least of them states', () => {
    const [fine, coarse, unstated] = setUpIdentities(
      [settings({ sigmaVerticalM: 0.01 }), settings({ id: 'B2', sigmaVerticalM: 0.05 })].map((own) => ({
        settings: own,
        place: PLACE,
      })),
    );
    expect(fine?.mark.verticalM).toBe(coarse?.mark.verticalM);
    expect(coarse?.setup.verticalM).toBeCloseTo(Math.sqrt(0.05 ** 2 - 0.01 ** 2 + 0.002 ** 2), 12);
    expect(unstated).toBeUndefined();
    expect(
      setUpIdentities([{ settings: settings({ sigmaHorizontalM: null }), place: PLACE }])[0]?.mark.horizontalM,
    ).toBe(0);
  });
});
