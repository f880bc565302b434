import { describe, expect, it } from 'vitest';
import { constantLimit, limitAt, needsDistance } from '../../../src/core/quality/standards/limit-rule.js';
import type { LimitRule } from '../../../src/core/quality/standards/limit-rule.js';
import { limitVerdicts } from '../../../src/core/quality/standards/limit-verdict.js';
import { accuracyClass, STANDARDS } from '../../../src/core/quality/standards/standards.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { textOf } from '../../support/repository-files.js';

const rule = (own: Partial<LimitRule>): LimitRule => ({ ...constantLimit('rule', '2d', 0), ...own });

describe('limitAt', () => {
  it.each(readReferenceTable('standards').map((row) => [row.case, row] as const))('gives %s', (_, row) => {
    const standard = STANDARDS.find(({ id }) => id === row.text('standard'));
    const own =
      standard?.rules.find(({ axis }) => axis === row.text('axis')) ??
      rule({
        combine: row.text('combine') === 'rss' ? 'rss' : 'linear',
        constantM: row.numberOrNull('constant_m') ?? NaN,
        ppm: row.numberOrNull('ppm') ?? NaN,
      });
    const limit = limitAt(own, row.number('distance_m'));
    expect(
      Math.abs((limit?.limitM ?? NaN) / Math.sqrt(row.number('divisor')) - row.number('expected_m')),
    ).toBeLessThanOrEqual(row.tolerance);
  });

  it('says which term governs: the largest of those summed, else floor or cap', () => {
    const both = rule({ constantM: 0.03, ppm: 1.5, floorM: 0.04, capM: 0.1 });
    expect(limitAt(both, 1000)).toEqual({ limitM: 0.04, governedBy: 'floor' });
    expect(limitAt(both, 10_000)).toMatchObject({ governedBy: 'constant' });
    expect(limitAt(both, 30_000)).toMatchObject({ governedBy: 'proportion' });
    expect(limitAt(both, 90_000)).toEqual({ limitM: 0.1, governedBy: 'cap' });
    expect(limitAt(rule({ perRootKmM: 0.012 }), 9000)).toMatchObject({ governedBy: 'root-distance' });
    expect(limitAt(rule({ perRootKmM: 0.012 }), 9000)?.limitM).toBeCloseTo(0.036, 15);
    expect(limitAt(rule({ ppm: 10, distanceOffsetM: 200 }), 800)?.limitM).toBeCloseTo(0.01, 15);
  });

  it('gives no limit where the rule needs a distance and there is none', () => {
    expect(limitAt(rule({ constantM: 0.03, ppm: 1 }), null)).toBeNull();
    expect(limitAt(rule({ constantM: 0.03 }), null)).toEqual({ limitM: 0.03, governedBy: 'constant' });
    expect([
      needsDistance(rule({ ppm: 1 })),
      needsDistance(rule({ perRootKmM: 1 })),
      needsDistance(rule({ constantM: 1 })),
    ]).toEqual([true, true, false]);
  });

  it('never falls with distance', () => {
    for (const combine of ['linear', 'rss'] as const) {
      let before = 0;
      for (let d = 0; d <= 100_000; d += 500) {
        const now =
          limitAt(rule({ combine, constantM: 0.01, ppm: 2, perRootKmM: 0.004, floorM: 0.012, capM: 0.2 }), d)?.limitM ??
          0;
        expect(now).toBeGreaterThanOrEqual(before);
        before = now;
      }
    }
  });
});

describe('limitVerdicts', () => {
  it('compares the axis the rule names, passes a value equal to its limit, and gives the margin', () => {
    const verdicts = limitVerdicts({ firstM: 0.03, secondM: -0.04, upM: -0.06 }, null, [
      constantLimit('plan', '2d', 0.05),
      constantLimit('axis', '1d', 0.039),
      constantLimit('height', 'up', 0.05),
    ]);
    expect(verdicts.map(({ verdict }) => verdict)).toEqual(['within', 'exceeds', 'exceeds']);
    expect(verdicts.map(({ valueM }) => valueM)).toEqual([0.05, 0.04, 0.06]);
    expect(verdicts[2]?.marginM).toBeCloseTo(-0.01, 15);
  });

  it('leaves out a rule whose axis was not compared, and states nothing without the distance it needs', () => {
    expect(
      limitVerdicts({ firstM: null, secondM: null, upM: 0.01 }, null, [constantLimit('plan', '2d', 0.05)]),
    ).toEqual([]);
    expect(limitVerdicts({ firstM: 0, secondM: 0, upM: null }, null, [rule({ ppm: 1 })])[0]).toMatchObject({
      verdict: 'not-stated',
      limitM: null,
    });
  });
});

describe('STANDARDS', () => {
  it('each name a source of the bibliography and say how far it was seen', () => {
    const keys = textOf('docs/references.md');
    for (const standard of STANDARDS) {
      expect(keys, standard.id).toContain(`- **${standard.source}** — `);
      expect(standard.asks.length, standard.id).toBeGreaterThan(0);
    }
    expect(new Set(STANDARDS.map(({ id }) => id)).size).toBe(STANDARDS.length);
  });

  it('class a figure by the smallest size that holds it', () => {
    expect([0.0009, 0.001, 0.0011, 0.05, 9.9, 10.1].map(accuracyClass)).toEqual([0.001, 0.001, 0.002, 0.05, 10, null]);
  });
});
