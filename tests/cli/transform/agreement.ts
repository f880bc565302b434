import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { OptionValue } from '../../../src/cli/shell/command-spec.js';
import { loadTransform } from '../../../src/cli/commands/transform/options/load-transform.js';
import type { PlaceRow } from '../../../src/records/points/place-row.js';
import { composeTransform } from '../../../src/tasks/transform/compose-transform.js';
import type { RowCarrier } from '../../../src/tasks/transform/compose-transform.js';
import { emptyPointOnTheWay } from '../../../src/tasks/transform/point-on-the-way.js';
import type { Form } from '../../../src/tasks/transform/point-on-the-way.js';
import { formRead, formWritten } from '../../../src/tasks/transform/transform-plan.js';
import type { TransformPlan } from '../../../src/tasks/transform/transform-plan.js';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { seededRandom } from '../../support/seeded-random.js';
import { valueOf } from '../../support/shift-of-row.js';

// The pipeline of the command, from its options to its unrounded numbers, against PROJ's cct.
export const scratch: string = mkdtempSync(join(tmpdir(), 'pegbook-transform-'));
afterAll(() => {
  rmSync(scratch, { recursive: true, force: true });
});

export type Triple = readonly [number, number, number];
/** How far apart two results are, metres. */
export type Metric = (a: Triple, b: Triple) => number;

const METRES_PER_DEGREE = 111_320;
export const degreesApart: Metric = (a, b) =>
  Math.max(
    Math.abs(a[0] - b[0]) * METRES_PER_DEGREE,
    Math.abs(a[1] - b[1]) * METRES_PER_DEGREE * Math.cos((a[0] * Math.PI) / 180),
    Math.abs(a[2] - b[2]),
  );
export const metresApart: Metric = (a, b) =>
  Math.max(Math.abs(a[0] - b[0]), Math.abs(a[1] - b[1]), Math.abs(a[2] - b[2]));

/** The height that counts on the way in, and on the way out. */
export type Heights = readonly ['ellipsoidal' | 'orthometric', 'ellipsoidal' | 'orthometric'];

/** A transformation, by its options and as cct has it. */
export interface Case {
  readonly name: string;
  readonly options: Readonly<Record<string, OptionValue>>;
  /** The way back, where it is not the exchange of --from and --to. */
  readonly back?: Readonly<Record<string, OptionValue>>;
  readonly file?: string;
  readonly cct: readonly string[];
  /** Order of the columns of cct's input and output, as places in ours. */
  readonly swapIn?: boolean;
  readonly swapOut?: boolean;
  readonly box: readonly [Triple, Triple];
  readonly metric: Metric;
  readonly epoch?: number;
  /** The operation has no heights of its own: the height given stays. */
  readonly keepsHeight?: boolean;
  /** Kinds of height in and out, forward; ellipsoidal ones unless stated. */
  readonly heights?: Heights;
  /** A file the options name that may be absent. */
  readonly needs?: string;
  /** cct's own inverse is exact too: ours is compared with it as well. */
  readonly cctInverse?: boolean;
}

export const WHOLE_EARTH: Case['box'] = [
  [-6.4e6, -6.4e6, -6.4e6],
  [6.4e6, 6.4e6, 6.4e6],
];

function row(values: Triple, form: Form, height: Heights[0]): PlaceRow {
  const orthometric = height === 'orthometric';
  const geocentric = form === 'geocentric' || form === 'topocentric';
  return {
    pointId: '1',
    first: values[0],
    second: values[1],
    third: geocentric ? values[2] : 0,
    ellipsoidalHeightM: geocentric || orthometric ? null : values[2],
    orthometricHeightM: orthometric ? values[2] : null,
    passThrough: [],
    line: 1,
    record: 1,
  };
}

export interface Transformer {
  readonly run: RowCarrier;
  readonly from: Form;
  readonly to: Form;
  readonly heights: Heights;
}

/** What the command plans for its options, in a folder. */
export async function planOf(
  options: Readonly<Record<string, OptionValue>>,
  cwd: string = scratch,
): Promise<TransformPlan> {
  const context = { cwd, signal: new AbortController().signal, stdin: process.stdin };
  return valueOf(await loadTransform({ args: [], options }, context, false)).planned.plan;
}

export async function transformer(
  options: Readonly<Record<string, OptionValue>>,
  heights: Heights = ['ellipsoidal', 'ellipsoidal'],
): Promise<Transformer> {
  return transformerOf(await planOf(options), heights);
}

export function transformerOf(plan: TransformPlan, heights: Heights): Transformer {
  return { run: composeTransform(plan), from: formRead(plan), to: formWritten(plan), heights };
}

function turned(heights: Heights | undefined): Heights | undefined {
  return heights === undefined ? undefined : [heights[1], heights[0]];
}

export function apply({ run, from, to, heights }: Transformer, values: Triple): Triple {
  const out = emptyPointOnTheWay();
  const problem = run(row(values, from, heights[0]), out);
  if (problem !== null) throw new Error(problem.message);
  const height = (heights[1] === 'orthometric' ? out.orthometricHeightM : out.ellipsoidalHeightM) ?? 0;
  switch (to) {
    case 'place':
      return [out.latitudeDeg, out.longitudeDeg, height];
    case 'plane':
      return [out.first, out.second, height];
    case 'geocentric':
      return [out.xM, out.yM, out.zM];
    case 'topocentric':
      return [out.eastM, out.northM, out.upM];
  }
}

export function points(box: Case['box']): readonly Triple[] {
  const random = seededRandom(20_260_304);
  const [low, high] = box;
  const isWhole = box === WHOLE_EARTH;
  const draw = (): Triple => [
    random.between(low[0], high[0]),
    random.between(low[1], high[1]),
    random.between(low[2], high[2]),
  ];
  const found: Triple[] = [];
  while (found.length < 1000) {
    const point = draw();
    const radius = Math.hypot(...point);
    if (!isWhole || (radius > 5e6 && radius < 7e6)) found.push(point);
  }
  return found;
}

export function runCct(
  c: Pick<Case, 'cct' | 'swapIn' | 'swapOut' | 'epoch'>,
  inputs: readonly Triple[],
  backwards: boolean,
): readonly Triple[] {
  const [swapIn, swapOut] = backwards ? [c.swapOut, c.swapIn] : [c.swapIn, c.swapOut];
  const order = ([a, b, z]: Triple, swap: boolean | undefined): Triple => (swap === true ? [b, a, z] : [a, b, z]);
  const text = inputs
    .map(
      (point) =>
        `${order(point, swapIn)
          .map((value) => value.toFixed(13))
          .join(' ')}${c.epoch === undefined ? '' : ` ${String(c.epoch)}`}`,
    )
    .join('\n');
  return runProgram('cct', ['-d', '12', ...(backwards ? ['-I'] : []), ...c.cct], `${text}\n`).map((line) => {
    const [a = Number.NaN, b = Number.NaN, z = Number.NaN] = numbersOf(line.replace(/\s+(?:inf|HUGE_VAL)\s*$/u, ''));
    return order([a, b, z], swapOut);
  });
}

/** Options both ways; the shift file is written where there is one. */
function ways(
  c: Case,
  index: number,
): readonly [Readonly<Record<string, OptionValue>>, Readonly<Record<string, OptionValue>>] {
  const name = `shift-${String(index)}.toml`;
  if (c.file !== undefined) writeFileSync(join(scratch, name), c.file);
  const forward = c.file === undefined ? c.options : { ...c.options, shift: name };
  const exchanged = {
    ...forward,
    from: forward['to'] ?? forward['from'],
    to: forward['from'],
    ...(c.file !== undefined && { inverse: true }),
  };
  return [forward, c.back ?? exchanged];
}

/** The tests of every case of a table: against cct both ways, and a hundred times there and back. */
export function testAgreement(cases: readonly Case[]): void {
  describe.skipIf(!hasProgram('cct'))(
    'transform agrees with cct to 0.01 mm on 1,000 points (skipped where cct is absent)',
    () => {
      cases.forEach((c, index) => {
        const [forward, back] = ways(c, index);
        if (c.needs !== undefined && !existsSync(c.needs)) {
          it.skip(`${c.name}: ${c.needs} is absent`, () => undefined);
          return;
        }
        it(`${c.name}: forward`, async () => {
          const run = await transformer(forward, c.heights);
          const inputs = points(c.box);
          const expected = runCct(c, inputs, false);
          expect(expected).toHaveLength(1000);
          const worst = Math.max(
            ...inputs.map((point, at) => c.metric(apply(run, point), expected[at] ?? [Number.NaN, 0, 0])),
          );
          expect(worst).toBeLessThanOrEqual(1e-5);
        });
        // Not against cct -I, which turns a small-angle matrix back by its transpose: 0.05 to 0.4 mm from the inverse.
        it(`${c.name}: what cct made of the points comes back to them`, async () => {
          const inputs = points(c.box);
          const targets = runCct(c, inputs, false);
          const run = await transformer(back, turned(c.heights));
          const worst = Math.max(
            ...targets.map((point, at) =>
              c.metric(
                apply(run, c.keepsHeight === true ? [point[0], point[1], inputs[at]?.[2] ?? 0] : point),
                inputs[at] ?? [Number.NaN, 0, 0],
              ),
            ),
          );
          expect(worst).toBeLessThanOrEqual(1e-5);
        });
        if (c.cctInverse === true)
          it(`${c.name}: backward, as cct -I has it`, async () => {
            const targets = runCct(c, points(c.box), false);
            const expected = runCct(c, targets, true);
            const run = await transformer(back, turned(c.heights));
            expect(
              Math.max(...targets.map((point, at) => c.metric(apply(run, point), expected[at] ?? [Number.NaN, 0, 0]))),
            ).toBeLessThanOrEqual(1e-5);
          });
      });
    },
  );

  describe('transform there and back', () => {
    cases.forEach((c, index) => {
      const [forward, back] = ways(c, index);
      if (c.needs !== undefined && !existsSync(c.needs)) {
        it.skip(`${c.name}: ${c.needs} is absent`, () => undefined);
        return;
      }
      it(`${c.name}: a hundred round trips drift less than a micrometre`, async () => {
        const [there, home] = [await transformer(forward, c.heights), await transformer(back, turned(c.heights))];
        for (const start of points(c.box).slice(0, 20)) {
          let point = start;
          for (let i = 0; i < 100; i += 1) point = apply(home, apply(there, point));
          expect(c.metric(point, start)).toBeLessThan(1e-6);
        }
      });
    });
  });
}
