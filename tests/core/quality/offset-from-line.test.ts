import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { offsetsFromLine } from '../../../src/core/quality/offset-from-line.js';
import type { LineOffset, LinePlace } from '../../../src/core/quality/offset-from-line.js';

const offsetFromLine = (point: LinePlace, line: readonly LinePlace[]): LineOffset => offsetsFromLine(line)(point);

/** The same by looking at every segment in its turn. */
function plainly(point: LinePlace, line: readonly LinePlace[]): LineOffset {
  let best: LineOffset | null = null;
  let nearest = Infinity;
  let before = 0;
  for (let i = 0; i + 1 < line.length; i += 1) {
    const [from, to] = [line[i]!, line[i + 1]!];
    const [e, n] = [to.eastM - from.eastM, to.northM - from.northM];
    const length = Math.hypot(e, n);
    const [pe, pn] = [point.eastM - from.eastM, point.northM - from.northM];
    const raw = length === 0 ? 0 : (pe * e + pn * n) / length;
    const at = Math.min(length, Math.max(0, raw));
    const share = length === 0 ? 0 : at / length;
    const [eastM, northM] = [pe - share * e, pn - share * n];
    const distance = Math.hypot(eastM, northM);
    if (distance < nearest) {
      nearest = distance;
      const heightM =
        from.heightM === null || to.heightM === null ? null : from.heightM + share * (to.heightM - from.heightM);
      best = {
        segment: i,
        chainageM: before + at,
        alongM: i === 0 && raw < 0 ? raw : i + 2 === line.length && raw > length ? raw - length : 0,
        acrossM: length === 0 ? distance : (pe * n - pn * e) / length,
        eastM,
        northM,
        upM: heightM === null || point.heightM === null ? null : point.heightM - heightM,
      };
    }
    before += length;
  }
  return best!;
}

const LINE = [
  { eastM: 100, northM: 100, heightM: 10 },
  { eastM: 100, northM: 200, heightM: 20 },
  { eastM: 150, northM: 200, heightM: 20 },
];

describe('offsetFromLine', () => {
  it('gives chainage, offset to the right and height over the line', () => {
    const offset = offsetFromLine({ eastM: 100.5, northM: 150, heightM: 15.02 }, LINE);
    expect(offset).toMatchObject({ segment: 0, chainageM: 50, acrossM: 0.5, alongM: 0, eastM: 0.5, northM: 0 });
    expect(offset.upM).toBeCloseTo(0.02, 12);
    expect(offsetFromLine({ eastM: 120, northM: 199.7, heightM: null }, LINE)).toMatchObject({
      segment: 1,
      chainageM: 120,
      upM: null,
    });
    expect(offsetFromLine({ eastM: 120, northM: 200.3, heightM: 20 }, LINE).acrossM).toBeCloseTo(-0.3, 12);
  });

  it('finds what looking at every segment finds, of lines that turn, cross themselves and run over the same ground again', () => {
    const metres = fc.oneof(fc.integer({ min: -5, max: 5 }), fc.double({ min: -1e5, max: 1e5, noNaN: true }));
    const place = fc.record({ eastM: metres, northM: metres, heightM: fc.option(metres) });
    fc.assert(
      fc.property(
        fc.array(place, { minLength: 2, maxLength: 120 }),
        fc.array(place, { minLength: 1 }),
        (line, points) => {
          const offset = offsetsFromLine(line);
          for (const point of [...points, ...line.slice(0, 3)])
            expect(offset(point)).toStrictEqual(plainly(point, line));
        },
      ),
    );
  });

  it('finds on a long line what each segment alone would give', () => {
    const line = Array.from({ length: 20_001 }, (_, i) => ({
      eastM: 5 * i,
      northM: 40 * Math.sin(i / 50),
      heightM: 0,
    }));
    const offset = offsetsFromLine(line);
    for (let i = 0; i < 40; i += 1) {
      const point = { eastM: 2500 * i + 1, northM: 3, heightM: 0 };
      expect(offset(point)).toEqual(plainly(point, line));
    }
  });

  it('measures beyond an end along the line, and at an inner corner to the corner', () => {
    expect(offsetFromLine({ eastM: 100, northM: 95, heightM: 10 }, LINE)).toMatchObject({
      chainageM: 0,
      alongM: -5,
      northM: -5,
    });
    expect(offsetFromLine({ eastM: 153, northM: 200, heightM: 20 }, LINE)).toMatchObject({ chainageM: 150, alongM: 3 });
    const corner = offsetFromLine({ eastM: 97, northM: 204, heightM: 20 }, LINE);
    expect(Math.hypot(corner.eastM, corner.northM)).toBe(5);
    expect(corner).toMatchObject({ alongM: 0, chainageM: 100 });
  });

  it('takes a segment of no length as its point', () => {
    const [a] = LINE;
    if (a === undefined) throw new Error('no line');
    expect(offsetFromLine({ eastM: 100, northM: 103, heightM: 10 }, [a, a])).toMatchObject({
      acrossM: 3,
      alongM: 0,
      chainageM: 0,
    });
  });

  it('gives no height over a segment of which an end has none, and that over the others', () => {
    const line = [{ eastM: 100, northM: 100, heightM: null }, ...LINE.slice(1)];
    expect(offsetFromLine({ eastM: 100.5, northM: 150, heightM: 15 }, line).upM).toBeNull();
    expect(
      offsetFromLine({ eastM: 100.5, northM: 150, heightM: 15 }, [
        ...LINE.slice(0, 1),
        { eastM: 100, northM: 200, heightM: null },
      ]).upM,
    ).toBeNull();
    expect(offsetFromLine({ eastM: 120, northM: 200, heightM: 20.1 }, line).upM).toBeCloseTo(0.1, 12);
  });
});
