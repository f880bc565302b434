import { describe, expect, it } from 'vitest';
import { baseShiftProblems, openWindowWarning } from '../../../src/tasks/bases/base-doubts.js';
import type { PreparedBase } from '../../../src/tasks/bases/prepare-bases.js';

const base = (
  id: string,
  own: { readonly fromMs?: number; readonly toMs?: number; readonly movedM?: number } = {},
): PreparedBase =>
  ({
    settings: { id, fromMs: own.fromMs ?? null, toMs: own.toMs ?? null },
    correction: own.movedM === undefined ? null : { magnitudeM: own.movedM },
  }) as unknown as PreparedBase;

describe('a base that is known far from what it broadcast', () => {
  // A kilometre: a datum is off by hundreds of metres. Common practice, no published source.
  it('is refused from a kilometre on, by its place among the bases', () => {
    const problems = baseShiftProblems([
      base('B0'),
      base('B1', { movedM: 999.9 }),
      base('B2', { movedM: 1000 }),
      base('B3', { movedM: 123_456 }),
    ]);
    expect(problems.map(({ message, where }) => [message, where?.path])).toEqual([
      ['base B2 is known 1.000 km from what it broadcast', 'base[2]'],
      ['base B3 is known 123.456 km from what it broadcast', 'base[3]'],
    ]);
  });
});

describe('set-ups without a window of time', () => {
  const HOUR = 3_600_000;
  const span = (hours: number): { readonly firstMs: number; readonly lastMs: number } => ({
    firstMs: 7,
    lastMs: 7 + hours * HOUR,
  });
  const said = (...asked: Parameters<typeof openWindowWarning>): string | null =>
    openWindowWarning(...asked)?.message ?? null;
  const open = [base('B1'), base('B2')];

  it('are said where the fixes span more than a day', () => {
    expect(said(open, span(24))).toBeNull();
    expect(said(open, span(24.001))).toBe('bases B1, B2 have no window of time, and the fixes span more than a day');
    expect(said([base('B1')], span(25))).toBe('base B1 has no window of time, and the fixes span more than a day');
    expect(said(open, null)).toBeNull();
  });

  it('are said by the first part of a whole that gives the reason', () => {
    expect(said(open, span(25), span(23))).not.toBeNull();
    expect(said(open, span(30), span(25))).toBeNull();
  });

  it('are said at once beside others that have one', () => {
    const mixed = [base('B1'), base('B2', { fromMs: 0 }), base('B3', { toMs: 9 })];
    expect(said(mixed, span(1))).toBe('base B1 has no window of time, and other bases of the session have');
    expect(said(mixed, span(1), span(0.5))).toBeNull();
    expect(said([base('B2', { fromMs: 0 }), base('B3', { toMs: 9 })], span(50))).toBeNull();
    expect(said([], span(50))).toBeNull();
  });
});
