import { describe, expect, it } from 'vitest';
import { offsetFromLine } from '../../../src/core/quality/offset-from-line.js';

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
