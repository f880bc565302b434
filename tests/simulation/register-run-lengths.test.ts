import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../support/run-in-process.js';
import { seededRandom } from '../support/seeded-random.js';
import type { SeededRandom } from '../support/seeded-random.js';

// Jobs are drawn here and their files written as text, with no code of the program; the program is asked only for its register.
// Run lengths are those that NIST-HANDBOOK 6.3.2.3 tabulates for k 0.5 and h 5, from memory.
const RUN_LENGTHS = { still: 465, oneSigma: 10.4, twoSigmas: 4.01 };

const folder = mkdtempSync(join(tmpdir(), 'pegbook-register-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** One sigma of each error, plan and height, metres. */
interface Noise {
  readonly row: readonly [number, number];
  readonly control: readonly [number, number];
  readonly base: readonly [number, number];
}

/** Setting up anew: centring and antenna height as the program takes them, within the sigma of the base. */
const SET_UP = [0.0015, 0.002] as const;
const USUAL: Noise = { row: [0.008, 0.012], control: [0.005, 0.008], base: [0.008, 0.012] };
/** What is known of control and base is exact: a day tells nothing new of them. */
const EXACT: Noise = { row: [0.008, 0.012], control: [0.000_01, 0.000_01], base: [0, 0] };

interface Value {
  readonly what: 'mark' | 'base';
  readonly point_id: string;
  readonly axis: string;
  readonly upper_sum: number;
  readonly lower_sum: number;
}

const PLACES = [
  [-38000, 3_487_000],
  [-36500, 3_489_500],
  [-40500, 3_485_000],
  [-39000, 3_490_500],
] as const;
const dayName = (day: number): string => `d${String(day + 1).padStart(3, '0')}`;

/** Writes a job of so many days and asks for its register; `moved`: what each mark has moved by on each day, metres, along every axis. */
async function registerOf(
  random: SeededRandom,
  days: number,
  noise: Noise,
  moved: (mark: number, day: number, axis: number) => number = () => 0,
): Promise<readonly Value[]> {
  const axes = [0, 1, 2] as const;
  const kind = (axis: number): 0 | 1 => (axis < 2 ? 0 : 1);
  const isExact = noise.base[0] === 0;
  const setUpOf = (axis: number): number => (isExact ? 0 : SET_UP[kind(axis)]);
  const controlError = PLACES.map(() => axes.map((axis) => noise.control[kind(axis)] * random.normal()));
  const baseError = axes.map((axis) => Math.sqrt(noise.base[kind(axis)] ** 2 - setUpOf(axis) ** 2) * random.normal());
  const total = axes.map((axis) => Math.hypot(noise.row[kind(axis)], noise.base[kind(axis)]));
  const rows = [
    'point_id,occupation,westing_m,southing_m,ellipsoidal_height_m,base_id,first_epoch_utc,last_epoch_utc,sigma_east_m,sigma_north_m,sigma_up_m',
  ];
  for (let day = 0; day < days; day += 1) {
    const setUp = axes.map((axis) => setUpOf(axis) * random.normal());
    const date = new Date(Date.UTC(2026, 0, 5 + day, 8)).toISOString().slice(0, 13);
    for (const [mark, place] of PLACES.entries()) {
      const at = axes.map((axis) => {
        const known = axis === 2 ? 1040 : place[axis];
        const own = noise.row[kind(axis)] * random.normal() + moved(mark, day, axis);
        return (known + (controlError[mark]?.[axis] ?? 0) + (baseError[axis] ?? 0) + (setUp[axis] ?? 0) + own).toFixed(
          6,
        );
      });
      const sigmas = total.map((sigma) => sigma.toFixed(6)).join(',');
      rows.push(`M${String(mark)},${dayName(day)}/1,${at.join(',')},B1,${date}:00:00Z,${date}:00:20Z,${sigmas}`);
    }
  }
  const base = [
    '[[day.base]]',
    'id = "B1"',
    'broadcast = { westing_m = -38000.0, southing_m = 3486500.0, ellipsoidal_height_m = 1041.0, at = "mark" }',
    'antenna_height_m = 1.6',
    `sigma_horizontal_m = ${String(noise.base[0])}`,
    `sigma_vertical_m = ${String(noise.base[1])}`,
  ];
  writeFileSync(
    join(folder, 'job.toml'),
    [
      'version = 1',
      '[shared.system]',
      'grid = "EPSG:2049"',
      ...Array.from({ length: days }, (_, day) => [
        '[[day]]',
        `id = "${dayName(day)}"`,
        'fixes = ["f.csv"]',
        ...base,
      ]).flat(),
      '',
    ].join('\n'),
  );
  const header = 'point_id,westing_m,southing_m,ellipsoidal_height_m,sigma_horizontal_m,sigma_vertical_m';
  const control = PLACES.map(
    ([west, south], mark) =>
      `M${String(mark)},${String(west)},${String(south)},1040,${noise.control[0].toFixed(6)},${noise.control[1].toFixed(6)}`,
  );
  writeFileSync(join(folder, 'control.csv'), `${[header, ...control].join('\n')}\n`);
  const { exit, stdout, stderr } = await runInProcess(
    ['check-tolerances', '-', '--job', 'job.toml', '--control', 'control.csv', '--register', '--format', 'json'],
    { cwd: folder, stdin: `${rows.join('\n')}\n` },
  );
  if (exit > 1) throw new Error(stderr);
  return (JSON.parse(stdout.toString('utf8')) as { readonly values: readonly Value[] }).values;
}

/** Of each chart, its values until a sum is above 5, and whether one is; taken from what is written, not from where the program says it is. */
function runsOf(
  values: readonly Value[],
): readonly { readonly what: string; readonly id: string; readonly length: number; readonly signals: boolean }[] {
  const charts = new Map<string, Value[]>();
  for (const value of values) {
    const key = `${value.what} ${value.point_id} ${value.axis}`;
    charts.set(key, [...(charts.get(key) ?? []), value]);
  }
  return [...charts.values()].map((own) => {
    const at = own.findIndex(({ upper_sum: upper, lower_sum: lower }) => Math.max(upper, lower) > 5);
    return {
      what: own[0]?.what ?? '',
      id: own[0]?.point_id ?? '',
      length: at < 0 ? own.length : at + 1,
      signals: at >= 0,
    };
  });
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

describe('the charts of a register', () => {
  it('signal of marks and bases that stand about once in 465 days', async () => {
    const random = seededRandom(20261130);
    const runs = [];
    for (let job = 0; job < 30; job += 1) runs.push(...runsOf(await registerOf(random, 80, USUAL)));
    const days = runs.reduce((sum, { length }) => sum + length, 0);
    const signals = runs.filter(({ signals: isSignal }) => isSignal).length;
    expect(runs).toHaveLength(30 * 15);
    // Signals come like drops of rain, after the few days that a sum takes to grow: three sigmas of their number, and a tenth for that.
    const spread = 3 / Math.sqrt(signals) + 0.1;
    expect(days / signals / RUN_LENGTHS.still).toBeGreaterThan(1 - spread);
    expect(days / signals / RUN_LENGTHS.still).toBeLessThan(1 + spread);
    expect(spread).toBeLessThan(0.5);
  }, 240_000);

  it.each([
    [1, RUN_LENGTHS.oneSigma, 40],
    [2, RUN_LENGTHS.twoSigmas, 25],
  ])(
    'find a shift of %i sigma in so many days as is tabulated',
    async (sigmas, expected, days) => {
      const random = seededRandom(7);
      const marks: number[] = [];
      const bases: number[] = [];
      // A mark is held against all of its set-up, itself among them: of four, √¾ of its shift is seen. Of a base the mean of four is seen, twice as sharp.
      const ofMark = sigmas / Math.sqrt(1 - 1 / PLACES.length);
      const ofBase = sigmas / Math.sqrt(PLACES.length);
      const noiseOf = (axis: number): number => EXACT.row[axis < 2 ? 0 : 1] ?? NaN;
      for (let job = 0; job < 30; job += 1) {
        const one = await registerOf(random, days, EXACT, (mark, _, axis) => (mark === 1 ? ofMark * noiseOf(axis) : 0));
        const all = await registerOf(random, days, EXACT, (_, __, axis) => ofBase * noiseOf(axis));
        marks.push(
          ...runsOf(one)
            .filter(({ id }) => id === 'M1')
            .map(({ length }) => length),
        );
        bases.push(
          ...runsOf(all)
            .filter(({ what }) => what === 'base')
            .map(({ length }) => length),
        );
      }
      for (const lengths of [marks, bases]) {
        const spread = Math.sqrt(mean(lengths.map((length) => (length - mean(lengths)) ** 2)) / lengths.length);
        expect(lengths).toHaveLength(90);
        expect(Math.abs(mean(lengths) - expected), String(mean(lengths))).toBeLessThan(3.3 * spread);
      }
    },
    240_000,
  );
});
