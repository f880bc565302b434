import { describe, expect, it } from 'vitest';
import { exchangedPlace, implausiblePair, lostSign } from '../../../../src/core/grid/systems/implausible-place.js';
import { loadGridSystem } from '../../../../src/files/systems/load-systems.js';
import { valueOf } from '../../../support/shift-of-row.js';

const LO21 = valueOf(loadGridSystem('EPSG:2049'));
const FEET = valueOf(loadGridSystem('EPSG:2225'));

function suspicion(system: typeof LO21, first: number, second: number): string | null {
  const place = { latitudeDeg: 0, longitudeDeg: 0 };
  const status = system.inverse(first, second, place);
  return implausiblePair(system, first, second, status === 'ok' ? place : null)?.message ?? null;
}

describe('a pair that looks like something else', () => {
  it.each([
    ['exchanged', 3_487_000, -38_000, 'exchanged'],
    ['of the opposite signs', 38_000, -3_487_000, 'opposite signs'],
    ['exchanged and of the opposite signs', -3_487_000, 38_000, 'exchanged and the opposite signs'],
    ['in feet', -124_672, 11_440_289, 'feet'],
    ['in degrees', 21.4, -31.5, 'degrees'],
    ['without its millions', -38_000, 487_000, 'a constant such as 3000000 was left off in the southing'],
    ['with millions too many', -38_000, 13_487_000, 'a constant such as 10000000 was added'],
    ['in degrees, latitude first', -31.5, 21.4, 'degrees'],
  ])('is suspected: %s', (_, first, second, word) => {
    expect(suspicion(LO21, first, second)).toContain(word);
  });

  it('is not taken for degrees that lie elsewhere', () => {
    expect(suspicion(LO21, 100, 50)).toContain('a constant such as 3000000 was left off');
    expect(suspicion(LO21, 100, 50)).not.toContain('degrees');
    expect(suspicion(LO21, 21.4, 100)).not.toContain('degrees');
  });

  it('is suspected: metres given to a system in feet', () => {
    // 39° N, 122° W in zone 1 of California, in metres.
    const pair = { first: 0, second: 0 };
    FEET.forward(41, -122, pair);
    const { metresPerUnit } = FEET.axes[0];
    expect(suspicion(FEET, pair.first * metresPerUnit, pair.second * metresPerUnit)).toContain('metres');
  });

  it('is suspected: a southern zone without its false northing', () => {
    const south = valueOf(loadGridSystem('EPSG:32734'));
    expect(suspicion(south, 728_000, -3_486_000)).toContain('a constant such as 10000000 was left off in the northing');
    // Over the equator the zones are used as they are.
    for (const northing of [10_200_000, 12_000_000]) expect(suspicion(south, 728_000, northing)).toBeNull();
    expect(suspicion(valueOf(loadGridSystem('EPSG:32634')), 450_000, -1_500_000)).toBeNull();
  });

  it('is left alone inside the area, just outside it, and where nothing fits better', () => {
    expect(suspicion(LO21, -38_000, 3_487_000)).toBeNull();
    expect(suspicion(LO21, -140_000, 3_487_000)).toBeNull();
    expect(suspicion(LO21, 1_000_000, 1_000_000)).toBeNull();
  });
});

describe('latitude and longitude that look exchanged', () => {
  const area = valueOf(loadGridSystem('EPSG:2049')).areaOfUse;
  if (area === null) throw new Error('no area');
  it('are suspected where the exchanged place is inside', () => {
    expect(exchangedPlace(area, 21, -31)?.code).toBe('coordinates-swapped');
  });
  it('are suspected where a sign was lost', () => {
    expect(lostSign(area, 31, 21)?.message).toContain('the sign of the latitude the other way');
    expect(lostSign(area, -31, -21)?.message).toContain('the sign of the longitude the other way');
    expect(lostSign(area, 31, -21)?.message).toContain('the sign of both the other way');
  });
  it('are left alone inside, and where the exchange does not help', () => {
    expect(exchangedPlace(area, -31, 21)).toBeNull();
    expect(exchangedPlace(area, 50, 10)).toBeNull();
    expect(exchangedPlace(area, -31, 121)).toBeNull();
    expect(exchangedPlace(area, 31, 21)).toBeNull();
    expect(lostSign(area, -31, 21)).toBeNull();
    expect(lostSign(area, 50, 10)).toBeNull();
  });
});
