import { describe, expect, it } from 'vitest';
import type { GeoidModel } from '../../../src/core/geoid/geoid-height.js';
import { baseHeightProblems, baseShiftProblems, openWindowWarning } from '../../../src/tasks/bases/base-doubts.js';
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

describe('a base whose two heights differ by the geoid height', () => {
  const moved = (eastM: number, upM: number, known: object = { kind: 'geodetic' }): PreparedBase =>
    ({
      settings: { id: 'B1', known },
      arpGeodetic: { latitudeDeg: 51, longitudeDeg: 13 },
      correction: { local: { eastM, northM: 0, upM } },
    }) as unknown as PreparedBase;
  const geoid = (heightM: number | null): GeoidModel => ({ heightAt: () => heightM }) as unknown as GeoidModel;
  const said = (base: PreparedBase, heightM: number | null): string | null =>
    baseHeightProblems([base], geoid(heightM))[0]?.message ?? null;

  it('is refused, with the one that looks orthometric', () => {
    expect(said(moved(0, -8.05), 8.045)).toBe(
      'base B1 is known 8.050 m lower than what it broadcast, and the geoid height there is 8.045 m: the known height looks orthometric, where an ellipsoidal one belongs',
    );
    expect(said(moved(0, 8.045), 8.045)).toContain('higher than what it broadcast');
    expect(said(moved(0, 8.045), 8.045)).toContain('the height that was broadcast looks orthometric');
    expect(said(moved(0, 30), -30)).toContain('the known height looks orthometric');
    expect(said(moved(0, -30), -30)).toContain('the height that was broadcast looks orthometric');
    expect(baseHeightProblems([moved(9, 0), moved(0, -8)], geoid(8)).map(({ where }) => where?.path)).toEqual([
      'base[1]',
    ]);
  });
  it.each([
    [0.99, -8.54, 8.045, true],
    [0.99, -8.56, 8.045, false],
    [1.01, -8.045, 8.045, false],
    // A receiver's own position: metres off in plan, and as much in height.
    [3, -44, 40, true],
    [3, -46.1, 40, false],
    [3, -33.9, 40, false],
    [30, -48.1, 40, false],
    [30, -47.9, 40, true],
    [0, -1.9, 1.9, false],
    [0, -2.1, 2.1, true],
    [0, 0, 40, false],
    [0, -1.3, 36, false],
  ])('moved %d m east and %d m up over a geoid of %d m is refused: %s', (eastM, upM, heightM, expected) => {
    expect(said(moved(eastM, upM), heightM) !== null).toBe(expected);
  });
  it('is taken where its kind is said, where nothing was known, and without a geoid', () => {
    expect(said(moved(0, -8, { kind: 'geodetic-orthometric' }), 8)).toBeNull();
    expect(said(moved(0, -8, { kind: 'grid', height: { kind: 'orthometric' } }), 8)).toBeNull();
    expect(said(moved(0, -8, { kind: 'grid', height: { kind: 'ellipsoidal' } }), 8)).not.toBeNull();
    expect(said({ ...moved(0, -8), correction: null }, 8)).toBeNull();
    expect(said(moved(0, -8), null)).toBeNull();
    expect(baseHeightProblems([moved(0, -8)], null)).toEqual([]);
  });
});
