import { describe, expect, it } from 'vitest';
import { planView } from '../../../../src/report/figures/plan/plan-view.js';
import { linearScale, roundBelow, utcScale } from '../../../../src/report/figures/scales.js';
import { placeLabels } from '../../../../src/report/figures/plan/place-labels.js';
import { spreadOut } from '../../../../src/report/figures/plan/spread-out.js';
import type { ReportAxis } from '../../../../src/records/reports/reduction-report.js';

const axis = (direction: ReportAxis['direction'], metresPerUnit: number = 1): ReportAxis => ({
  columnName: '',
  name: '',
  abbreviation: 'E',
  direction,
  unitName: 'metre',
  metresPerUnit,
});

describe('a plan', () => {
  it('has west on the left and south below, whichever way the axes grow', () => {
    const north = planView(
      [
        { first: 0, second: 0 },
        { first: 1000, second: 1000 },
      ],
      [axis('east'), axis('north')],
      700,
      50,
    );
    const south = planView(
      [
        { first: 0, second: 0 },
        { first: -1000, second: -1000 },
      ],
      [axis('west'), axis('south')],
      700,
      50,
    );
    for (const [view, sign] of [
      [north, 1],
      [south, -1],
    ] as const) {
      const origin = view.place({ first: 0, second: 0 });
      const northEast = view.place({ first: sign * 1000, second: sign * 1000 });
      expect(northEast.x).toBeGreaterThan(origin.x);
      expect(northEast.y).toBeLessThan(origin.y);
    }
  });

  it('has one scale both ways, in metres whatever the unit', () => {
    for (const unit of [1, 0.3048]) {
      const view = planView(
        [
          { first: 0, second: 0 },
          { first: 900, second: 400 },
        ],
        [axis('east', unit), axis('north', unit)],
        700,
        50,
      );
      const a = view.place({ first: 0, second: 0 });
      const b = view.place({ first: 300, second: 400 });
      expect(Math.hypot(b.x - a.x, b.y - a.y)).toBeCloseTo(500 * unit * view.pixelsPerMetre, 6);
    }
  });

  it('holds a single point, and none', () => {
    expect(planView([{ first: 5, second: 7 }], [axis('east'), axis('north')], 700, 50).pixelsPerMetre).toBeGreaterThan(
      0,
    );
    expect(planView([], [axis('east'), axis('north')], 700, 50).pixelsPerMetre).toBeGreaterThan(0);
  });
});

describe('scales', () => {
  it('have round ticks inside their domain', () => {
    expect(linearScale([-7, 13], [0, 100], 5).ticks).toEqual([-5, 0, 5, 10]);
    expect(
      utcScale([Date.UTC(2026, 2, 4, 5, 10), Date.UTC(2026, 2, 4, 8, 50)], [0, 100], 4).ticks.map((ms) =>
        new Date(ms).toISOString().slice(11, 16),
      ),
    ).toEqual(['06:00', '07:00', '08:00']);
  });

  it.each([
    [0.03, 0.02],
    [7.9, 5],
    [5, 5],
    [1999, 1000],
    [20000, 20000],
  ])('round %d down to %d', (value, round) => {
    expect(roundBelow(value)).toBeCloseTo(round, 12);
  });
});

describe('labels and crowds', () => {
  it('labels meet neither each other nor the edge', () => {
    const wanted = Array.from({ length: 60 }, (_, i) => ({
      at: { x: 20 + (i % 10) * 9, y: 20 + Math.floor(i / 10) * 9 },
      text: `P-${String(i)}`,
      clear: 4,
    }));
    const placed = placeLabels(wanted, [], { left: 0, top: 0, right: 150, bottom: 120 });
    expect(placed.length).toBeGreaterThan(3);
    expect(placed.length).toBeLessThan(60);
    expect(new Set(placed.map(({ x, y }) => `${String(x)} ${String(y)}`)).size).toBe(placed.length);
  });

  it('thins a crowd to what is asked for and keeps a few as they are', () => {
    const crowd = Array.from({ length: 5000 }, (_, i) => ({ x: (i * 37) % 700, y: (i * 61) % 400 }));
    expect(spreadOut(crowd, 250).length).toBeLessThanOrEqual(250);
    expect(spreadOut(crowd.slice(0, 9), 250)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8]);
    expect(
      spreadOut(
        Array.from({ length: 999 }, () => ({ x: 1, y: 1 })),
        250,
      ),
    ).toEqual([0]);
  });
});
