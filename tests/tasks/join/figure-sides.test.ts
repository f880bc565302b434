import { describe, expect, it } from 'vitest';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import type { GeographicPair } from '../../../src/core/grid/systems/grid-system.js';
import type { Station } from '../../../src/records/points/point-join.js';
import { figureArea } from '../../../src/tasks/join/figure-area.js';
import { gridOf } from '../../core/grid/systems.js';

const grid = gridOf('EPSG:28355');
const geodesic = createGeodesic(grid.base.ellipsoid);
type Corner = readonly [number, number];

function area(corners: readonly Corner[]): { readonly areaM2: number; readonly isClockwise: boolean } | string {
  const stations = corners.map(([east, north], index): Station => {
    const place: GeographicPair = { latitudeDeg: 0, longitudeDeg: 0 };
    const [gridFirst, gridSecond] = [3e5 + east, 58e5 + north];
    grid.inverse(gridFirst, gridSecond, place);
    return { ...place, pointId: String(index), gridFirst, gridSecond, ellipsoidalHeightM: null } as Station;
  });
  const found = figureArea(stations, { grid, geodesic });
  return found.ok
    ? { areaM2: found.value.gridAreaM2, isClockwise: found.value.isClockwise }
    : (found.problems[0]?.message ?? '');
}

/** A figure from each of its corners on, both ways round, turned by quarters and turned over: it stays what it is. */
function* views(
  corners: readonly Corner[],
): Generator<{ readonly corners: readonly Corner[]; readonly isOver: boolean }> {
  for (let start = 0; start < corners.length; start += 1) {
    const begun = [...corners.slice(start), ...corners.slice(0, start)];
    for (const isBack of [false, true])
      for (const turn of [0, 1, 2, 3]) {
        const turned = (isBack ? [...begun].reverse() : begun).map(([x, y]): Corner => {
          const [a, b] = turn % 2 === 0 ? [x, y] : [-y, x];
          return turn < 2 ? [a, b] : [-a, -b];
        });
        yield { corners: turned, isOver: isBack };
        yield { corners: turned.map(([x, y]): Corner => [-x, y]), isOver: !isBack };
      }
  }
}

describe('the sides of a figure', () => {
  // Areas by counting squares.
  it.each<readonly [string, readonly Corner[], number]>([
    [
      'a triangle',
      [
        [0, 0],
        [40, 0],
        [0, 30],
      ],
      600,
    ],
    [
      'a square',
      [
        [0, 0],
        [20, 0],
        [20, 20],
        [0, 20],
      ],
      400,
    ],
    [
      'an L',
      [
        [0, 0],
        [20, 0],
        [20, 10],
        [10, 10],
        [10, 30],
        [0, 30],
      ],
      400,
    ],
    [
      'a comb whose teeth lie in one line',
      [
        [0, 0],
        [50, 0],
        [50, 20],
        [40, 20],
        [40, 10],
        [10, 10],
        [10, 20],
        [0, 20],
      ],
      700,
    ],
    [
      'a corner in the middle of a side',
      [
        [0, 0],
        [10, 0],
        [20, 0],
        [20, 20],
        [0, 20],
      ],
      400,
    ],
    [
      'two sides in one line that do not meet',
      [
        [0, 0],
        [10, 0],
        [15, 10],
        [20, 0],
        [30, 0],
        [30, 20],
        [0, 20],
      ],
      550,
    ],
  ])('of %s part no other: its area is one', (_, corners, areaM2) => {
    const [first] = [area(corners)];
    const isClockwise = typeof first === 'string' ? null : first.isClockwise;
    for (const view of views(corners))
      expect(area(view.corners)).toEqual({
        areaM2: expect.closeTo(areaM2, 3) as number,
        isClockwise: view.isOver ? !(isClockwise ?? false) : isClockwise,
      });
  });

  it.each<readonly [string, readonly Corner[]]>([
    [
      'a bow',
      [
        [0, 0],
        [20, 20],
        [20, 0],
        [0, 20],
      ],
    ],
    [
      'a spike out and back',
      [
        [0, 0],
        [20, 0],
        [30, 0],
        [20, 0],
        [20, 20],
        [0, 20],
      ],
    ],
    [
      'a spike over its own side',
      [
        [0, 0],
        [20, 0],
        [10, 0],
        [10, 20],
      ],
    ],
    [
      'a side without length',
      [
        [0, 0],
        [20, 0],
        [20, 0],
        [0, 20],
      ],
    ],
    [
      'a corner that touches another side',
      [
        [0, 0],
        [30, 0],
        [30, 20],
        [15, 0],
        [0, 20],
      ],
    ],
    [
      'a corner that is met twice',
      [
        [0, 0],
        [10, 10],
        [20, 0],
        [20, 20],
        [10, 10],
        [0, 20],
      ],
    ],
    [
      'two sides that lie on each other',
      [
        [0, 0],
        [30, 0],
        [30, 10],
        [20, 0],
        [10, 0],
        [0, 10],
      ],
    ],
    [
      'a triangle without an area',
      [
        [0, 0],
        [10, 0],
        [30, 0],
      ],
    ],
    [
      'a side that crosses two others',
      [
        [0, 0],
        [40, 0],
        [40, 10],
        [20, -5],
        [0, 10],
      ],
    ],
  ])('of %s cross or touch: it is refused', (_, corners) => {
    for (const view of views(corners))
      expect(area(view.corners)).toMatch(/cross or touch, so the figure has no single area$/u);
  });

  it('are named that cross', () => {
    expect(
      area([
        [0, 0],
        [20, 20],
        [20, 0],
        [0, 20],
      ]),
    ).toBe('sides 0–1 and 2–3 cross or touch, so the figure has no single area');
    expect(
      area([
        [0, 0],
        [20, 0],
        [0, 20],
        [20, 20],
      ]),
    ).toBe('sides 1–2 and 3–0 cross or touch, so the figure has no single area');
    expect(
      area([
        [0, 0],
        [1, 1],
      ]),
    ).toBe('a figure of 2 corners (0, 1) has no area');
  });
});
