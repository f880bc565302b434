import { describe, expect, it } from 'vitest';
import { elementsChoice } from '../../../src/core/sky/chosen-elements.js';
import { HEALTHY, NO_ELEMENTS, UNHEALTHY, orbitTrack } from '../../../src/core/sky/orbit-track.js';
import type { KeplerElements } from '../../../src/records/sky/orbit-elements.js';
import { keplerElements } from '../../support/kepler-elements.js';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const ORBIT = [0, 5153.7, 0.01, 0.96, 1, 0.5, 0.2, 4e-9, -8e-9, 0, 0, 0, 0, 0, 0, 0];

const elements = (hours: number, more: Partial<KeplerElements> = {}): KeplerElements =>
  keplerElements(ORBIT, { referenceMs: hours * HOUR, ...more });

describe('elementsChoice', () => {
  it('takes the broadcast elements whose time lies nearest, before or behind', () => {
    const [two, four] = [elements(2), elements(4)];
    const choose = elementsChoice([four, two]);
    expect(choose(2.9 * HOUR)).toBe(two);
    expect(choose(3.1 * HOUR)).toBe(four);
    expect(choose(-5 * HOUR)).toBe(two);
    expect(choose(20 * HOUR)).toBe(four);
  });

  it('keeps the first of two at one time', () => {
    const [first, second] = [elements(2), elements(2)];
    expect(elementsChoice([first, second])(2 * HOUR)).toBe(first);
    expect(elementsChoice([first, second])(3 * HOUR)).toBe(first);
    expect(elementsChoice([first, second])(1 * HOUR)).toBe(first);
  });

  it('takes an almanac only where no broadcast elements lie within a day', () => {
    const [broadcast, almanac] = [elements(0), elements(30, { origin: 'almanac' })];
    const choose = elementsChoice([broadcast, almanac]);
    expect(choose(24 * HOUR)).toBe(broadcast);
    expect(choose(25 * HOUR)).toBe(almanac);
    expect(choose(30 * DAY)).toBe(almanac);
    expect(choose(200 * DAY)).toBeNull();
  });

  it('takes broadcast elements for a week, and no longer', () => {
    const choose = elementsChoice([elements(0)]);
    expect(choose(7 * DAY)).not.toBeNull();
    expect(choose(7 * DAY + 1)).toBeNull();
    expect(choose(-8 * DAY)).toBeNull();
  });
});

describe('orbitTrack', () => {
  it('leaves a satellite out while the elements nearest say that it is not healthy, whatever it said before', () => {
    const { states, used, oldestMs } = orbitTrack(
      [elements(0), elements(4, { isHealthy: false })],
      [1, 3, 8, 400].map((hours) => hours * HOUR),
    );
    expect([...states]).toEqual([HEALTHY, UNHEALTHY, UNHEALTHY, NO_ELEMENTS]);
    expect(used).toHaveLength(1);
    expect(oldestMs).toEqual({ broadcast: HOUR, almanac: null });
  });
});
