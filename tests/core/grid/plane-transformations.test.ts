import { describe, expect, it } from 'vitest';
import { createAffine2d } from '../../../src/core/grid/plane/affine-2d.js';
import type { GridPair } from '../../../src/core/grid/systems/grid-system.js';
import { createSimilarity2d } from '../../../src/core/grid/plane/similarity-2d.js';
import type { PlaneTransformation } from '../../../src/core/grid/plane/similarity-2d.js';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { seededRandom } from '../../support/seeded-random.js';
import { valueOf } from '../../support/shift-of-row.js';

function transformationOf(method: string, n: readonly number[]): PlaneTransformation {
  const at = (i: number): number => n[i] ?? NaN;
  return method === 'similarity'
    ? valueOf(createSimilarity2d({ first0: at(0), second0: at(1), scale: at(2), rotationArcsec: at(3) }))
    : valueOf(createAffine2d({ a0: at(0), a1: at(1), a2: at(2), b0: at(3), b1: at(4), b2: at(5) }));
}

const through = (run: (a: number, b: number, out: GridPair) => void, pair: GridPair): GridPair => {
  const out = { first: 0, second: 0 };
  run(pair.first, pair.second, out);
  return out;
};
const apart = (a: GridPair, b: GridPair): number =>
  Math.max(Math.abs(a.first - b.first), Math.abs(a.second - b.second));
const pairOf = (n: readonly number[]): GridPair => ({ first: n[0] ?? NaN, second: n[1] ?? NaN });

const rows = readReferenceTable('plane-transformations').map((row) => ({
  name: row.case,
  row,
  plane: transformationOf(row.text('method'), row.numbers('parameters')),
  source: pairOf(row.numbers('from_pair')),
  target: pairOf(row.numbers('to_pair')),
}));

describe('published plane transformations, EPSG 9621 and 9624', () => {
  it.each(rows)('$name: forward, inverse and a hundred round trips', ({ row, plane, source, target }) => {
    expect(apart(through(plane.forward, source), target)).toBeLessThanOrEqual(row.tolerance);
    const unit = row.text('method') === 'affine' ? 4 : 1.01;
    expect(apart(through(plane.inverse, target), source)).toBeLessThanOrEqual(unit * row.tolerance);
    let pair = source;
    for (let i = 0; i < 100; i += 1) pair = through(plane.inverse, through(plane.forward, pair));
    expect(apart(pair, source)).toBeLessThan(1e-6);
  });
});

describe('what cannot be undone', () => {
  it('is refused: a scale of 0 or less, parallel axes, numbers that are not finite', () => {
    const codeOf = (outcome: { readonly problems: readonly { readonly code: string }[] }): string | undefined =>
      outcome.problems[0]?.code;
    const similar = { first0: 0, second0: 0, scale: 1, rotationArcsec: 0 };
    const affine = { a0: 0, a1: 1, a2: 0, b0: 0, b1: 0, b2: 1 };
    expect(codeOf(createSimilarity2d({ ...similar, scale: 0 }))).toBe('config-invalid-value');
    expect(codeOf(createSimilarity2d({ ...similar, first0: NaN }))).toBe('config-invalid-value');
    expect(codeOf(createAffine2d({ ...affine, b2: 0 }))).toBe('config-invalid-value');
    expect(codeOf(createAffine2d({ ...affine, a1: 2, a2: 4, b1: 1, b2: 2 }))).toBe('config-invalid-value');
    expect(codeOf(createAffine2d({ ...affine, a0: Infinity }))).toBe('config-invalid-value');
    expect(codeOf(createAffine2d(affine))).toBeUndefined();
  });
});

describe.skipIf(!hasProgram('cct'))('a thousand random points against cct (skipped where cct is absent)', () => {
  const theta = (1200 * Math.PI) / 648000;
  const m = 1.00035;
  const cases = [
    {
      name: 'similarity',
      plane: transformationOf('similarity', [-129.549, -208.185, m, 1200]),
      s: [m * Math.cos(theta), m * Math.sin(theta), -m * Math.sin(theta), m * Math.cos(theta)],
    },
    {
      name: 'affine',
      plane: transformationOf('affine', [-129.549, 0.9, 0.02, -208.185, -0.03, 1.1]),
      s: [0.9, 0.02, -0.03, 1.1],
    },
  ];
  it.each(cases)('$name agrees to 0.01 mm in both directions', ({ plane, s }) => {
    const random = seededRandom(17);
    const points = Array.from({ length: 1000 }, () => ({
      first: random.between(-5e5, 1e6),
      second: random.between(-5e5, 1e7),
    }));
    const input = `${points.map((p) => `${p.first.toFixed(9)} ${p.second.toFixed(9)} 0 0`).join('\n')}\n`;
    const args = [
      '-d',
      '8',
      '+proj=affine',
      '+xoff=-129.549',
      '+yoff=-208.185',
      `+s11=${String(s[0])}`,
      `+s12=${String(s[1])}`,
      `+s21=${String(s[2])}`,
      `+s22=${String(s[3])}`,
    ];
    const forward = runProgram('cct', args, input).map((line) => pairOf(numbersOf(line)));
    const inverse = runProgram('cct', ['-I', ...args], input).map((line) => pairOf(numbersOf(line)));
    const nowhere = { first: NaN, second: NaN };
    expect(Math.max(...points.map((p, i) => apart(through(plane.forward, p), forward[i] ?? nowhere)))).toBeLessThan(
      1e-5,
    );
    expect(Math.max(...points.map((p, i) => apart(through(plane.inverse, p), inverse[i] ?? nowhere)))).toBeLessThan(
      1e-5,
    );
  });
});
