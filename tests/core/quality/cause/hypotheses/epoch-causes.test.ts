import { describe, expect, it } from 'vitest';
import { epochCauses } from '../../../../../src/core/quality/cause/hypotheses/epoch-causes.js';
import { causeContext, causePoint, formOf, readOf } from './a-day.js';

const EUROPE = causePoint('A', { latitudeDeg: 50, longitudeDeg: 15, knownHeightM: 300, geoidHeightM: 45 });
const forms = (change: Partial<typeof EUROPE> = {}) => epochCauses(causeContext([{ ...EUROPE, ...change }]));

describe('another epoch', () => {
  it('is the motion of a plate over a year: central Europe goes north-east by 2.5 cm', () => {
    const form = formOf(forms(), 'Eurasian plate');
    const [east = 0, north = 0, up = 1] = form.columns[0] ?? [];
    // Some 2.1 cm east and 1.5 cm north a year, and not up: known to every survey of Europe; from memory, to 2 mm.
    expect(Math.abs(east - 0.021)).toBeLessThan(0.002);
    expect(Math.abs(north - 0.015)).toBeLessThan(0.002);
    expect(Math.abs(up)).toBeLessThan(1e-4);
    const turned = formOf(forms({ convergenceDeg: 90, pointScaleFactor: 2 }), 'Eurasian plate').columns[0];
    expect(turned?.[1]).toBeCloseTo(2 * east, 9);
    expect(turned?.[0]).toBeCloseTo(-2 * north, 9);
  });

  it('was chosen from the plates that are near', () => {
    expect(forms().map(({ choices }) => choices)).toEqual([1]);
    // Anatolia: Eurasia, Arabia and Nubia may carry it, by generous boxes.
    expect(forms({ latitudeDeg: 39, longitudeDeg: 35 }).map(({ choices }) => choices)).toEqual([3, 3, 3]);
  });

  it('is half a year at least and sixty at most', () => {
    const form = formOf(forms(), 'Eurasian plate');
    expect(readOf(form, [0.5])).toEqual({ years: 0.5 });
    expect(readOf(form, [0.49])).toBeNull();
    expect(readOf(form, [-0.49])).toBeNull();
    expect(readOf(form, [-60])).toEqual({ years: -60 });
    expect(readOf(form, [60.1])).toBeNull();
  });

  it('is not sought without a place or without plan', () => {
    expect(forms({ latitudeDeg: null })).toEqual([]);
    expect(forms({ longitudeDeg: null })).toEqual([]);
    expect(forms({ eastM: null, northM: null })).toEqual([]);
  });
});
