import { describe, expect, it } from 'vitest';
import type { Outcome } from '../../../src/records/outcome.js';
import { startPlan } from '../../../src/tasks/plan/run-plan.js';
import type { PlanEnd, PlanRequest } from '../../../src/tasks/plan/run-plan.js';
import { valueOf } from '../../core/grid/systems.js';
import { candidate, choice, setupOf, target } from './plan-fixture.js';

const NEAR = target('near', -31.5, 21.42);
const FAR = target('far', -31.5, 22.6);

function requestOf(more: Partial<PlanRequest> = {}): PlanRequest {
  const base = { id: 'base', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: null };
  return {
    setup: setupOf({ kind: 'given', base }),
    targets: [NEAR, FAR],
    rowsRejected: 0,
    time: { startMs: null, month: null },
    hours: 8,
    day: null,
    stream: null,
    ...more,
  };
}

const STREAM = {
  kind: 'msm7' as const,
  constellations: [{ name: 'gps', satellites: 10, signals: 1 }],
  rateHz: 1,
  hours: 8,
  rovers: 1,
};

/** A plan gone through to its end, as a program would. */
function wholePlan(request: PlanRequest): { readonly ids: readonly string[]; readonly end: Outcome<PlanEnd> } {
  const run = valueOf(startPlan(request));
  const ids = [...run.predicted()].map((planned) => `${planned.target.id} ${planned.verdict}`);
  return { ids, end: run.end() };
}

describe('a plan run by a program', () => {
  it('gives the targets in their order, and ends with no where one is outside', () => {
    const { ids, end } = wholePlan(requestOf());
    expect(ids).toEqual(['near within', 'far outside']);
    const { totals, days, stream, answer } = valueOf(end);
    expect([totals.targets(), totals.outside(), days, stream]).toEqual([2, 1, null, null]);
    expect(answer.answer).toBe('no');
    expect([...answer.verdicts]).toEqual([
      ['within', 1],
      ['outside', 1],
    ]);
  });

  it('ends with no for a row left out, with review for a base that would have to be measured again, else within', () => {
    const near = { targets: [NEAR] };
    expect(valueOf(wholePlan(requestOf(near)).end).answer.answer).toBe('within');
    expect(valueOf(wholePlan(requestOf({ ...near, rowsRejected: 1 })).end).answer.answer).toBe('no');
    const { setup } = requestOf();
    const doubtful = wholePlan(requestOf({ ...near, setup: { ...setup, baseErrorM: 50_000 } }));
    expect(valueOf(doubtful.end).answer.answer).toBe('review');
  });

  it('sizes the stream for the longest baseline, from which on all frequencies are needed', () => {
    const ids = (targets: PlanRequest['targets']): readonly string[] => {
      const { stream, cautions } = valueOf(wholePlan(requestOf({ targets, stream: STREAM })).end);
      for (const { id } of stream?.cost.cautions ?? []) expect(cautions.map((caution) => caution.id)).toContain(id);
      return (stream?.cost.cautions ?? []).map(({ id }) => id);
    };
    expect(ids([NEAR, FAR])).not.toEqual(ids([NEAR]));
  });

  it('lays out a day for each base, with a tie in both', () => {
    const places = [candidate('W', -31.5, 21.3), candidate('E', -31.5, 21.9)];
    const targets = [21.28, 21.32, 21.55, 21.6, 21.65, 21.88, 21.92].map((longitudeDeg, index) =>
      target(`P${String(index)}`, -31.5, longitudeDeg, { toleranceHorizontalM: 0.2, toleranceVerticalM: 0.4 }),
    );
    const settings = {
      dayCount: 1,
      startS: 0,
      latestEndS: null,
      baseSetupS: 1800,
      overheadS: 180,
      controlOccupationS: 180,
      averageSpeedKmh: 50,
      detourFactor: 1.3,
    };
    const setup = setupOf({ kind: 'k', k: 2, ...choice(places) });
    const day = { settings, control: [], windows: null };
    const { end } = wholePlan(requestOf({ setup, targets, day, stream: STREAM }));
    const days = valueOf(end).days ?? [];
    // The link is paid for as long as the longest of these days is, unless hours end them.
    const lastS = Math.max(...days.flatMap(({ timetable }) => timetable.visits.map(({ endS }) => endS)));
    const { hours = NaN, cost } = valueOf(end).stream ?? {};
    expect(hours).toBeGreaterThanOrEqual(lastS / 3600);
    expect(hours).toBeLessThan(lastS / 3600 + 0.1);
    expect(cost?.baseUplinkMb).toBeCloseTo(((cost?.totalBytesPerS ?? NaN) * hours * 3600) / 1e6, 9);
    const ended = { ...day, settings: { ...settings, latestEndS: 8 * 3600 } };
    expect(valueOf(wholePlan(requestOf({ setup, targets, day: ended, stream: STREAM })).end).stream?.hours).toBe(8);
    expect(days.map(({ baseId }) => baseId).sort()).toEqual(['E', 'W']);
    const visited = (id: string): number =>
      days.filter(({ timetable }) => timetable.visits.some(({ pointId }) => pointId === id)).length;
    expect(targets.map(({ id }) => visited(id)).every((count) => count >= 1)).toBe(true);
    expect(targets.map(({ id }) => visited(id)).filter((count) => count === 2)).not.toEqual([]);
  });
});
