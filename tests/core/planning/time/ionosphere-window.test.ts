import { describe, expect, it } from 'vitest';
import {
  ionosphereCautions,
  ionosphereWindow,
  localSolarHour,
} from '../../../../src/core/planning/time/ionosphere-window.js';

const ids = (latitudeDeg: number, month: number | null): readonly string[] =>
  ionosphereWindow(latitudeDeg, month).map(({ id }) => id);

describe('localSolarHour', () => {
  it('adds four minutes a degree and stays within a day', () => {
    expect(localSolarHour(12, 30)).toBe(14);
    expect(localSolarHour(23, 45)).toBe(2);
    expect(localSolarHour(1, -30)).toBe(23);
    expect(localSolarHour(0, 0)).toBe(0);
    expect(localSolarHour(12, 180)).toBe(0);
  });
});

describe('ionosphereWindow', () => {
  it('depends on latitude alike in both hemispheres, and on winter where it says so', () => {
    expect(ids(5, 6)).toEqual(['ionosphere-low-latitude-evening']);
    expect(ids(-5, 6)).toEqual(ids(5, 6));
    expect(ids(45, 1)).toEqual(['ionosphere-mid-latitude-winter-day']);
    expect(ids(45, 7)).toEqual([]);
    expect(ids(-45, 7)).toEqual(['ionosphere-mid-latitude-winter-day']);
    expect(ids(-45, 1)).toEqual([]);
    expect(ids(45, null)).toEqual(['ionosphere-mid-latitude-winter-day']);
    expect(ids(70, 7)).toEqual(['ionosphere-high-latitude-night']);
  });

  it('marks every window as from memory', () => {
    for (const latitudeDeg of [0, 30, 45, 57, 80])
      for (const { source } of ionosphereWindow(latitudeDeg, null)) expect(source).toBe('from memory');
  });
});

describe('ionosphereCautions', () => {
  it('measures how long the work lies in the window, over midnight too', () => {
    // At 0° east the window is 18 to 02 UTC.
    expect(ionosphereCautions(5, 0, 6, 6, 8)).toEqual([]);
    expect(ionosphereCautions(5, 0, 6, 16, 4)[0]?.overlapH).toBeCloseTo(2, 12);
    expect(ionosphereCautions(5, 0, 6, 23, 6)[0]?.overlapH).toBeCloseTo(3, 12);
    expect(ionosphereCautions(5, 0, 6, 1, 2)[0]?.overlapH).toBeCloseTo(1, 12);
    expect(ionosphereCautions(5, 0, 6, 0, 48)[0]?.overlapH).toBeCloseTo(16, 12);
    expect(ionosphereCautions(5, 90, 6, 12, 1)[0]?.overlapH).toBeCloseTo(1, 12);
  });
});
