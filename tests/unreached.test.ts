import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { unreached } from '../tools/unreached.mjs';

describe('src', () => {
  it('holds no function, constant or type that neither a command nor the public face reaches', () => {
    expect(unreached()).toEqual([]);
  }, 300_000);
});

/** A small program of which everything is reached, by every way that src uses. */
const TREE: Readonly<Record<string, string>> = {
  'tsconfig.json':
    '{"compilerOptions":{"strict":true,"module":"nodenext","target":"es2022","lib":["es2022"],"types":[]},"include":["src"]}\n',
  'package.json': '{"type":"module"}\n',
  'src/main.ts': [
    `import { direct, type Direct } from './direct.js';`,
    `import { again as renamed } from './public.js';`,
    `export async function main(value: Direct): Promise<number> {`,
    `  const { late } = await import('./late.js');`,
    `  const { named: other } = await import('./late.js');`,
    `  const whole = await import('./late.js');`,
    `  await import('./then.js').then(({ handed }) => handed());`,
    `  return direct(value) + late() + other() + whole.throughTheModule() + renamed.size;`,
    `}`,
  ].join('\n'),
  'src/direct.ts': [
    `export interface Direct { readonly sizes: Sizes }`,
    `type Sizes = readonly number[];`,
    `const FIRST = 0, ADDED = 1;`,
    `const { length: LENGTH } = 'four';`,
    `export function direct({ sizes }: Direct): number { return (sizes[FIRST] ?? helper()) + ADDED + LENGTH; }`,
    `function helper(): number { return 2; }`,
  ].join('\n'),
  'src/late.ts': [
    `export const late = (): number => 1;`,
    `export const named = (): number => 2;`,
    `export function throughTheModule(): number { return 3; }`,
  ].join('\n'),
  'src/then.ts': 'export function handed(): void { /* nothing */ }\n',
  'src/public.ts': `export { again } from './again.js';\n`,
  'src/again.ts': 'const size = 1;\nexport const again = { size };\n',
  'src/worker.ts': `import { answer } from './answer.js';\nif (answer() > 0) answer();\n`,
  'src/answer.ts': 'export function answer(): number { return 1; }\n',
};

const trees: string[] = [];
afterAll(() => {
  for (const tree of trees) rmSync(tree, { recursive: true });
});

/** What is not reached of the small program with more lines at the end of some of its files. */
function unreachedWith(planted: Readonly<Record<string, string>>): readonly string[] {
  const root = realpathSync(mkdtempSync(join(tmpdir(), 'pegbook-unreached-')));
  trees.push(root);
  for (const path of new Set([...Object.keys(TREE), ...Object.keys(planted)])) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), `${TREE[path] ?? ''}\n${planted[path] ?? ''}\n`);
  }
  return unreached({ root, entries: ['src/main.ts', 'src/worker.ts'] });
}

describe('the search for what is not reached', () => {
  it('finds nothing in a program of which everything is used: by name, late, by another name, in a type, on loading', () => {
    expect(unreachedWith({})).toEqual([]);
  });

  it.each([
    ['a function that nothing calls', 'src/direct.ts', 'export function idle(): void {}', ['src/direct.ts: idle']],
    [
      'a type that nothing names',
      'src/direct.ts',
      'export interface Idle { readonly a: Sizes }',
      ['src/direct.ts: Idle'],
    ],
    [
      'a constant of two in one line',
      'src/direct.ts',
      'const idle = 1, busy = 2; helper.call(busy);',
      ['src/direct.ts: idle'],
    ],
    [
      'a name beside one that is taken late',
      'src/late.ts',
      'export const idle = (): number => late();',
      ['src/late.ts: idle'],
    ],
    [
      'a function that only itself calls',
      'src/late.ts',
      'export function idle(): void { idle(); }',
      ['src/late.ts: idle'],
    ],
    [
      'two that only each other call',
      'src/late.ts',
      'export function tick(): void { tock(); }\nexport function tock(): void { tick(); }',
      ['src/late.ts: tick', 'src/late.ts: tock'],
    ],
    [
      'a name that a module passes on and nobody takes',
      'src/public.ts',
      `export { idle } from './idle.js';`,
      ['src/idle.ts: idle'],
    ],
    [
      'a file that nothing loads',
      'src/alone/file.ts',
      'export const alone = 1;',
      ['src/alone/file.ts: the whole file'],
    ],
  ])('finds %s', (_, file, lines, expected) => {
    const taken = lines.includes('./idle.js') ? { 'src/idle.ts': 'export const idle = 1;' } : {};
    expect(unreachedWith({ ...taken, [file]: lines })).toEqual(expected);
  });

  it('fails where the program or an entry to it is missing, instead of finding nothing', () => {
    expect(() => unreached({ root: join(tmpdir(), 'pegbook-no-such-folder') })).toThrow();
    expect(() => unreached({ entries: ['src/no-such-file.ts'] })).toThrow('there is no src/no-such-file.ts');
  });
});
