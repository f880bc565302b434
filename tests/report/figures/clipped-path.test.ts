import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clippedPath } from '../../../src/report/figures/clipped-path.js';

const BOX = { left: 0, right: 100, top: 0, bottom: 50 };

describe('a line that reaches beyond its figure', () => {
  it('is drawn as far as the frame and a little over it', () => {
    expect(
      clippedPath(
        [
          { x: -1000, y: 25 },
          { x: 1000, y: 25 },
        ],
        false,
        BOX,
      ),
    ).toBe('M-2,25L102,25');
  });

  it('is nothing where it passes outside', () => {
    expect(
      clippedPath(
        [
          { x: -1000, y: 900 },
          { x: 1000, y: 800 },
        ],
        false,
        BOX,
      ),
    ).toBe('');
  });

  it('of a circle about the figure leaves nothing, of one through it the pieces inside', () => {
    const circle = (radius: number): readonly { x: number; y: number }[] =>
      Array.from({ length: 90 }, (_, i) => ({
        x: 50 + radius * Math.cos((i * Math.PI) / 45),
        y: 25 + radius * Math.sin((i * Math.PI) / 45),
      }));
    expect(clippedPath(circle(400), true, BOX)).toBe('');
    // A circle of 40 leaves the strip of 50 above and below: two arcs.
    expect(clippedPath(circle(40), true, BOX).match(/M/gu)?.length).toBeGreaterThanOrEqual(2);
    expect(clippedPath(circle(20), true, BOX).match(/M/gu)).toHaveLength(1);
  });

  it('keeps what is inside and never leaves the frame, whatever the line', () => {
    const coordinate = fc.double({ min: -500, max: 500, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.record({ x: coordinate, y: coordinate }), { maxLength: 12 }),
        fc.boolean(),
        (places, isClosed) => {
          const numbers = [...clippedPath(places, isClosed, BOX).matchAll(/(-?[\d.]+),(-?[\d.]+)/gu)];
          for (const [, x, y] of numbers) {
            expect(Number(x)).toBeGreaterThanOrEqual(-2.1);
            expect(Number(x)).toBeLessThanOrEqual(102.1);
            expect(Number(y)).toBeGreaterThanOrEqual(-2.1);
            expect(Number(y)).toBeLessThanOrEqual(52.1);
          }
          const inside = places.every(({ x, y }) => x > 0 && x < 100 && y > 0 && y < 50);
          if (inside && places.length > 1) expect(numbers.length).toBe(places.length + (isClosed ? 1 : 0));
        },
      ),
    );
  });
});
