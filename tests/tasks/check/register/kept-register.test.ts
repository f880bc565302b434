import { describe, expect, it } from 'vitest';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import type { CheckSetup } from '../../../../src/tasks/check/judge/check-tolerances-setup.js';
import { gatherRegister } from '../../../../src/tasks/check/register/gather-register.js';
import type { GatheredRegister } from '../../../../src/tasks/check/register/gather-register.js';
import { runRegister } from '../../../../src/tasks/check/register/run-register.js';
import { PLAIN_CHECK, checkBase, pointRow } from '../../../support/check-setup.js';
import { keptRecord } from '../../../support/kept-record.js';

const DAY_MS = 86_400_000;
const DAYS = ['monday', 'tuesday', 'wednesday'];
const part = (horizontalM: number, verticalM: number): { horizontalM: number; verticalM: number } => ({
  horizontalM,
  verticalM,
});
/** A base that is set up each day on one mark; `day` undefined: it stood all the while. */
const base = (id: string, day: string | undefined, markKey: string): CheckSetup['bases'][number] => {
  const setupKey = `${id} ${day ?? 'always'}`;
  const made = checkBase(id, { mark: part(0.004, 0.006), setup: part(0.001, 0.002), setupKey, markKey });
  return {
    ...made,
    settings: { ...made.settings, day },
    identity: { ...made.identity, setupName: setupKey },
    origin: { geodetic: { latitudeDeg: 47, longitudeDeg: 15, ellipsoidalHeightM: 400 } },
  } as unknown as CheckSetup['bases'][number];
};
const BASES = [
  ...DAYS.map((day) => base('B', day, 'mark B')),
  ...DAYS.map((day) => base(day === 'tuesday' ? 'C2' : 'C', day, 'mark C')),
  base('S', undefined, 'mark S'),
];
const SETUP: CheckSetup = { ...PLAIN_CHECK, bases: BASES, geoidSigmaM: 0.01 };

const MARKS = [
  { pointId: 'A', gridFirst: 1000, gridSecond: 2000, orthometricHeightM: 100 },
  { pointId: 'B', gridFirst: 1500, gridSecond: 2500, orthometricHeightM: 110 },
  { pointId: 'C', gridFirst: 900, gridSecond: 2900, orthometricHeightM: 120 },
];
const CONTROL = MARKS.map((mark, index) =>
  pointRow({ ...mark, sigmaHorizontalM: index === 2 ? null : 0.005, sigmaVerticalM: 0.008 }),
);
const OFF = [0.4, -0.7, 0.2, 0.9, -0.5, -0.3, 0.8, 0.1, -0.6, 0.6, -0.9, 0.3];
/** An occupation of a mark on a day, from a base, so many milliseconds after its midnight. */
function seen(
  mark: number,
  day: number,
  baseId: string,
  afterMs: number | null,
  change: Partial<PointRow> = {},
): PointRow {
  const known = MARKS[mark] ?? { pointId: 'none' };
  const off = (axis: number, sizeM: number): number => sizeM * (OFF[(5 * mark + 3 * day + 7 * axis) % OFF.length] ?? 0);
  const startMs = afterMs === null ? null : DAY_MS * day + afterMs;
  const { gridFirst = 0, gridSecond = 0, orthometricHeightM = 0 } = known as Partial<(typeof MARKS)[number]>;
  return pointRow({
    ...{ pointId: known.pointId, occupation: `${DAYS[day] ?? ''}/${String(mark + 1)}`, baseId },
    ...{ gridFirst: gridFirst + off(0, 0.01), gridSecond: gridSecond + off(1, 0.01) },
    orthometricHeightM: orthometricHeightM + off(2, 0.015),
    ...{ firstEpochMs: startMs, lastEpochMs: startMs === null ? null : startMs + 40_000 },
    ...{ sigmaEastM: 0.011, sigmaNorthM: 0.012, sigmaUpM: 0.018, baselineM: 4000, baselineHeightDifferenceM: 10 },
    ...change,
  });
}
const HOUR_MS = 3_600_000;
const whole = DAYS.flatMap((_, day) => [
  seen(0, day, 'B', 9 * HOUR_MS),
  seen(1, day, 'B', 10 * HOUR_MS),
  seen(2, day, day === 1 ? 'C2' : 'C', 11 * HOUR_MS),
  seen(0, day, day === 1 ? 'C2' : 'C', 14 * HOUR_MS, { occupation: `${DAYS[day] ?? ''}/9` }),
  seen(0, day, day === 1 ? 'C2' : 'C', 15 * HOUR_MS, { occupation: `${DAYS[day] ?? ''}/10` }),
  seen(1, day, 'S', 16 * HOUR_MS, { occupation: `${DAYS[day] ?? ''}/9` }),
]);
const named = (points: readonly PointRow[], name: string) => ({ points, name, problems: [] }) as never;
const gather = (points: readonly PointRow[], control = CONTROL, setup = SETUP, days: readonly string[] = DAYS) =>
  gatherRegister(named(points, 'points.csv'), named(control, 'control.csv'), days, setup);
const gathered = (...args: Parameters<typeof gather>): GatheredRegister => {
  const outcome = gather(...args);
  if (!outcome.ok) throw new Error(outcome.problems[0]?.message);
  return outcome.value;
};

// Regression, kept whole: whether charts and steps are right is what tests/core/quality/register holds.
describe('a register, as it was', () => {
  it.each(
    Object.entries({
      'three days of three bases': whole,
      'a mark that is 6 cm off from tuesday on': whole.map((row) =>
        row.pointId === 'B' && !row.occupation.startsWith('monday')
          ? { ...row, gridFirst: (row.gridFirst ?? 0) + 0.06 }
          : row,
      ),
      'no times, and no heights of one': whole.map((row) => ({
        ...row,
        ...{
          firstEpochMs: null,
          lastEpochMs: null,
          orthometricHeightM: row.pointId === 'A' ? null : row.orthometricHeightM,
        },
      })),
      'no baselines, one without its last epoch': whole.map((row, at) => ({
        ...row,
        ...{ baselineM: null, lastEpochMs: at === 1 ? null : row.lastEpochMs },
      })),
    }),
  )('%s', async (name, points) => {
    const run = runRegister(named(points, 'points.csv'), named(CONTROL, 'control.csv'), DAYS, SETUP);
    if (!run.ok) throw new Error(run.problems[0]?.message);
    const { marks, setUps, ...counts } = run.value.gathered;
    const record = {
      ...{
        ...counts,
        marks: marks.map(({ pointId }) => pointId),
        problems: run.problems.map(({ message }) => message),
      },
      setUps: setUps.map(({ day, base: own, seen: marksSeen, atMs }) => ({
        ...{ day, setUp: own.identity.setupKey, atMs, seen: marksSeen },
      })),
      ...{ rows: run.value.rows, answer: run.value.answer },
    };
    await expect(keptRecord(record)).toMatchFileSnapshot(`./registers/${name.replaceAll(/[, ]+/gu, '-')}.txt`);
  });
});

describe('what is gathered', () => {
  it('counts what is used and what is not, with the first and the last epoch', () => {
    const none = gathered(whole);
    expect([none.used, none.leftOut, none.setUps.length]).toEqual([18, 0, 9]);
    expect([none.firstEpochMs, none.lastEpochMs]).toEqual([9 * HOUR_MS, 2 * DAY_MS + 16 * HOUR_MS + 40_000]);
    const some = gathered(whole.map((row, at) => ({ ...row, verdict: at < 3 ? 'rejected' : 'review' })));
    expect([some.used, some.leftOut]).toEqual([15, 3]);
    expect(some.firstEpochMs).toBe(14 * HOUR_MS);
    const untimed = gathered(whole.map((row) => ({ ...row, lastEpochMs: null })));
    expect([untimed.firstEpochMs, untimed.lastEpochMs]).toEqual([null, null]);
    expect(untimed.setUps.every(({ atMs }) => atMs === null)).toBe(true);
  });

  it('warns of heights of another kind, and of sigmas that are not stated, each with its count', () => {
    const others = whole.map((row, at) =>
      at < 2 ? { ...row, orthometricHeightM: null, ellipsoidalHeightM: 150 } : row,
    );
    expect(gather(others).problems.map(({ code, message }) => [code, message])).toEqual([
      ['check-height-kinds', "heights of 2 points are of another kind than the control's and are not compared"],
    ]);
    const assumed = whole.map((row, at) =>
      at === 0 ? { ...row, sigmaEastM: null, sigmaNorthM: null, sigmaUpM: null } : row,
    );
    expect(gather(assumed).problems.map(({ code }) => code)).toEqual(['check-sigma-assumed']);
    expect(gather(whole).problems).toEqual([]);
  });

  it('stands in the order of time; where no time is stated a set-up stands at the beginning of its day, or of the one before', () => {
    const order = (points: readonly PointRow[], days = DAYS): readonly string[] =>
      gathered(points, CONTROL, SETUP, days).setUps.map(({ day, base: own }) => `${day} ${own.settings.id}`);
    const late = [seen(0, 1, 'S', 5 * HOUR_MS), seen(0, 0, 'B', 9 * HOUR_MS), seen(1, 0, 'C', 8 * HOUR_MS)];
    expect(order(late)).toEqual(['monday C', 'monday B', 'tuesday S']);
    const untimed = [
      seen(0, 0, 'B', 9 * HOUR_MS),
      seen(1, 0, 'C', null),
      seen(2, 1, 'B', null),
      seen(0, 2, 'B', 1 * HOUR_MS),
    ];
    expect(order(untimed)).toEqual(['monday B', 'monday C', 'tuesday B', 'wednesday B']);
    // Days that the job names the other way round: time decides, and of a day without one the day before it in the job.
    expect(order(untimed, ['wednesday', 'tuesday', 'monday'])).toEqual([
      ...['monday B', 'monday C', 'wednesday B', 'tuesday B'],
    ]);
    expect(order([seen(2, 1, 'B', null), seen(0, 0, 'B', 9 * HOUR_MS)])).toEqual(['monday B', 'tuesday B']);
    expect(order([seen(2, 0, 'B', null), seen(0, 1, 'B', 9 * HOUR_MS)])).toEqual(['monday B', 'tuesday B']);
  });

  it.each([
    ['no day of the job', { occupation: 'sunday/1' }, 'value-unknown-id'],
    ['no day at all', { occupation: '1' }, 'value-unknown-id'],
    ['a base that nobody describes', { baseId: 'Z' }, 'base-unknown'],
    ['a set-up of another day', { baseId: 'C2' }, 'base-unknown'],
  ])('is refused with %s', (_, change, code) => {
    const outcome = gather([...whole.slice(1), seen(0, 0, 'B', 0, change)]);
    expect([outcome.ok, outcome.problems.map((problem) => problem.code)]).toEqual([false, [code]]);
  });

  it('is refused where an occupation or control is given twice, where nothing is in common, and of one set-up', () => {
    const twice = gather([...whole, ...whole.slice(0, 1)]);
    expect(twice.problems.map(({ message }) => message)).toEqual(['A@monday/1 is given twice']);
    const known = gather(whole, [...CONTROL, ...CONTROL.slice(1, 2)]);
    expect(known.problems.map(({ message }) => message)).toEqual(['control B is given twice']);
    expect(gather(whole, []).problems.map(({ code }) => code)).toEqual(['check-nothing-in-common']);
    const one = runRegister(named(whole.slice(0, 2), 'p'), named(CONTROL, 'c'), DAYS, SETUP);
    expect(one.problems.map(({ code }) => code)).toEqual(['check-too-few-rows']);
    const two = runRegister(named(whole.slice(0, 4), 'p'), named(CONTROL, 'c'), DAYS, SETUP);
    expect(two.ok).toBe(true);
  });
});
