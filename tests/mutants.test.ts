import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { filesBelow, testsThatCan } from '../tools/mutants/related.mjs';
import { everySite } from '../tools/mutants/rooms.mjs';
import { belowFloors, chanceOfSoFew, interval } from '../tools/mutants/score.mjs';
import { drawn, instrumented, marked, shuffled, sitesOf } from '../tools/mutants/sites.mjs';
import { readReferenceTable } from './support/read-reference-table.js';
import { textOf } from './support/repository-files.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

// What tests the tests: it must make the changes that it says, one at a time, and none where none is asked for.
const TEXT = `
type Two = 2;
export function work(a: number, b: number, isOn: boolean): readonly unknown[] {
  let sum = -a;
  for (let i = 0; i < 3; i += 1) sum += i * b;
  return [sum, a <= b && !isOn, a - b * 2.5, 'x' + String(a), { 7: a === b }];
}
`;
const SITES = sitesOf('work.ts', TEXT);
const NUMBERS = new Map(SITES.map((site, index) => [site, index]));

/** What the function gives where a place that is asked for answers so. */
function runWith(text: string, at: (place: number) => boolean): unknown {
  const script = ts.transpile(text, { module: ts.ModuleKind.CommonJS });
  const exports: { work?: (a: number, b: number, isOn: boolean) => unknown } = {};
  // The text is the constant above.
  // eslint-disable-next-line @typescript-eslint/no-implied-eval, @typescript-eslint/no-unsafe-call -- the text is one of the tests own expressions, run to see that a change of it can be told
  new Function('exports', 'globalThis', script)(exports, { mutants: { at } });
  return exports.work?.(1, 2, false);
}

/** With the change of this number, or with none. */
const runChanged = (active: number): unknown =>
  runWith(instrumented(TEXT, SITES, NUMBERS), (place) => place === active);

describe('tools/mutants.mjs', () => {
  it('finds operators, signs, truths and numbers, and leaves types, names and joined text alone', () => {
    expect(SITES.map(({ change }) => change)).toEqual([
      '- → nothing',
      '0 → 1',
      '< → + 1 <',
      '+= → -=',
      '1 → 0',
      '+= → -=',
      '* → /',
      '&& → ||',
      '<= → <',
      '! → nothing',
      '- → +',
      '* → /',
      '2.5 → 2.75',
      '=== → !==',
    ]);
  });

  it('makes arrays of numbers smaller, and ends a loop at its operator alone: more room, or a round over nothing, changes nothing', () => {
    const changes = (text: string): readonly string[] => sitesOf('work.ts', text).map(({ change }) => change);
    expect(changes('const room = new Float64Array(3 * (count + 2));')).toEqual(['* → /', '3 → 2', '+ → -', '2 → 1']);
    expect(changes('const one = new Uint8Array(1);')).toEqual(['1 → 0']);
    expect(changes('const list = new Array(3);')).toEqual(['3 → 4']);
    expect(changes('const two = Float64Array.of(3);')).toEqual(['3 → 4']);
    expect(changes('for (let i = 0; i < 3; i += 1);')).toEqual(['0 → 1', '< → + 1 <', '+= → -=', '1 → 0']);
    expect(changes('for (let i = 3; i > 0; i -= 1);')).toEqual(['3 → 4', '> → >=', '0 → 1', '-= → +=', '1 → 0']);
  });

  it('changes one thing at a time, and nothing where none is active', () => {
    const asIs = [5, true, -4, 'x1', { 7: false }];
    expect(runChanged(-1)).toEqual(asIs);
    const changed = Object.fromEntries(
      SITES.flatMap(({ change }, index) =>
        change === '+= → -=' || change === '1 → 0' ? [] : [[index, runChanged(index)]],
      ),
    );
    expect(changed).toEqual({
      0: [7, true, -4, 'x1', { 7: false }],
      1: [5, true, -4, 'x1', { 7: false }],
      2: [1, true, -4, 'x1', { 7: false }],
      6: [0.5, true, -4, 'x1', { 7: false }],
      7: [5, true, -4, 'x1', { 7: false }],
      8: [5, true, -4, 'x1', { 7: false }],
      9: [5, false, -4, 'x1', { 7: false }],
      10: [5, true, 6, 'x1', { 7: false }],
      11: [5, true, 0.19999999999999996, 'x1', { 7: false }],
      12: [5, true, -4.5, 'x1', { 7: false }],
      13: [5, true, -4, 'x1', { 7: true }],
    });
  });

  it('marks each place that is run, and changes nothing', () => {
    const seen = new Set<number>();
    const at = (place: number): boolean => {
      seen.add(place);
      return true;
    };
    expect(runWith(marked(TEXT, SITES, NUMBERS), at)).toEqual(runChanged(-1));
    expect([...seen].sort((a, b) => a - b)).toEqual(SITES.map((_, index) => index));
  });

  it('draws as many of each part as are asked for, or as there are', () => {
    const part = ({ change }: { change: string }): string => (change.startsWith('0') ? 'zero' : 'other');
    const names = drawn(SITES, 1, { most: 2, each: { most: 3, of: part } }).map(part);
    expect(names.filter((name) => name === 'zero')).toHaveLength(1);
    expect(names.filter((name) => name === 'other')).toHaveLength(3);
    expect(drawn(SITES, 1, { most: 2, each: null })).toHaveLength(2);
  });

  it('draws the same sample from the same seed, and leaves it as it is where lines above it come and go', () => {
    const names = (text: string, seed: number): readonly string[] =>
      shuffled(sitesOf('work.ts', text), seed).map(({ key }) => key);
    expect(names(TEXT, 1)).toEqual(names(`// a line more\n\n${TEXT}`, 1));
    expect(names(TEXT, 1)).not.toEqual(names(TEXT, 2));
    expect(new Set(names(TEXT, 1)).size).toBe(SITES.length);
  });

  it('lists survivors that are there, each with its reason', () => {
    const listed = JSON.parse(textOf('tools/mutants/survivors.json')) as Record<
      'file' | 'line' | 'change' | 'kind' | 'why',
      string
    >[];
    for (const { file, line, change, kind, why } of listed) {
      expect(['equivalent', 'choice'], line).toContain(kind);
      const found = sitesOf(file, textOf(file)).some((site) => site.text === line && site.change === change);
      expect(found, `${file}: ${change} in ${line}`).toBe(true);
      expect(why.length, line).toBeGreaterThan(20);
    }
  });
});

describe('tools/mutants/who-runs.json', () => {
  const { seconds, runs } = JSON.parse(textOf('tools/mutants/who-runs.json')) as {
    readonly seconds: Readonly<Record<string, number>>;
    readonly runs: Readonly<Record<string, readonly string[]>>;
  };

  it('names files that are there', () => {
    const there = new Set([...filesBelow(ROOT, 'src', '.ts'), ...testsThatCan(ROOT)]);
    const named = [...Object.keys(seconds), ...Object.entries(runs).flatMap(([file, tests]) => [file, ...tests])];
    expect(named.filter((name) => !there.has(name))).toEqual([]);
  });

  // Files come between two runs of who-runs.mjs; until then they have the tests that import them, and the golden cases.
  it('knows nine in ten of the files that are changed', () => {
    const files = [...new Set(everySite(ROOT).map(({ file }) => file))];
    expect(files.filter((file) => Object.hasOwn(runs, file)).length).toBeGreaterThan(0.9 * files.length);
  });
});

const results = (room: string, killed: number, of: number): readonly { room: string; isKilled: boolean }[] =>
  Array.from({ length: of }, (_, index) => ({ room, isKilled: index < killed }));

describe('the score of the mutants', () => {
  it("has Wilson's interval", () => {
    for (const row of readReferenceTable('wilson')) {
      const { low, high } = interval(row.number('count'), row.number('of'));
      expect(Math.abs(low - row.number('low'))).toBeLessThanOrEqual(row.tolerance);
      expect(Math.abs(high - row.number('high'))).toBeLessThanOrEqual(row.tolerance);
    }
  });

  // SciPy, binom.cdf.
  it.each([
    [28, 40, 0.85, 0.011969218],
    [34, 40, 0.85, 0.567499809],
    [0, 10, 0.5, 0.0009765625],
    [240, 300, 0.85, 0.0115666156],
  ])('knows the chance of %i or fewer in %i', (killed, of, floor, chance) => {
    expect(chanceOfSoFew(killed, of, floor) / chance).toBeCloseTo(1, 4);
  });

  it('calls a sample below its floor where chance would seldom make it so bad, and the whole where it is', () => {
    const floors = { all: 0.85, rooms: { a: 0.85, b: 0.85 } };
    expect(belowFloors(results('a', 29, 40), floors, false)).toEqual([]);
    expect(belowFloors(results('a', 27, 40), floors, false)).toHaveLength(2);
    expect(belowFloors([...results('a', 40, 40), ...results('b', 4, 8)], floors, false)).toEqual([]);
    expect(belowFloors([...results('a', 200, 200), ...results('b', 20, 40)], floors, false)).toEqual([
      'b: 20 of 40 killed, and the floor is 85 %',
    ]);
    expect(belowFloors(results('a', 849, 1000), floors, true)).toHaveLength(2);
    expect(belowFloors(results('a', 850, 1000), floors, true)).toEqual([]);
  });

  it('has a floor for all and for each room, which may rise and not fall', () => {
    const floor = JSON.parse(textOf('tools/mutants/floor.json')) as { all: number; rooms: Record<string, number> };
    expect(floor.all).toBeGreaterThanOrEqual(0.81);
    expect(Object.keys(floor.rooms)).toEqual([
      'src/tasks',
      'src/io/tables',
      'src/core/observation',
      'src/core/quality',
      'src/core/geoid',
    ]);
    for (const share of Object.values(floor.rooms)) expect(share).toBeGreaterThanOrEqual(0.5);
  });
});
