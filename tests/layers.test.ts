import { cruise } from 'dependency-cruiser';
import type { ICruiseOptions, ICruiseResult } from 'dependency-cruiser';
import { ESLint } from 'eslint';
import type { Linter } from 'eslint';
import { existsSync, mkdirSync, mkdtempSync, realpathSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import tseslint from 'typescript-eslint';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import layerRules from '../.dependency-cruiser.mjs';
import { LONG_FUNCTIONS } from '../tools/long-functions.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

/** A small tree that keeps the rules; what is planted in it must be found. */
const TREE: Readonly<Record<string, string>> = {
  'package.json': '{"name":"tree","version":"0.0.0","type":"module","dependencies":{"proj4":"*","csv-parse":"*"}}\n',
  'tsconfig.json':
    '{"compilerOptions":{"strict":true,"module":"nodenext","target":"es2022","noEmit":true},"include":["src"]}\n',
  'src/records/point.ts': 'export interface Point {\n  readonly xM: number;\n}\n',
  'src/core/grid/shift.ts': `import type { Point } from '../../records/point.js';\n\n/** Shifts a point; east positive. */\nexport function shift(point: Point): Point {\n  return { xM: point.xM + 1 };\n}\n`,
  'src/tasks/run.ts': `import { shift } from '../core/grid/shift.js';\n\n/** Runs. */\nexport const run = shift;\n`,
  'src/report/page.ts': `import { shift } from '../core/grid/shift.js';\n\n/** Writes. */\nexport const page = shift;\n`,
  'src/io/read.ts': `import { shift } from '../core/grid/shift.js';\n\n/** Reads. */\nexport const read = shift;\n`,
  'src/cli/main.ts': `import { read } from '../io/read.js';\nimport { page } from '../report/page.js';\nimport { run } from '../tasks/run.js';\n\n/** Starts. */\nexport const main = [read, page, run];\n`,
};

interface Plant {
  readonly what: string;
  readonly file: string;
  readonly line: string;
  /** Name of the rule of the layer check, and a part of the message of the lint. */
  readonly layerRule: string;
  readonly lintMessage: string;
}

const PLANTS: readonly Plant[] = [
  {
    what: 'core reading a file',
    file: 'src/core/grid/shift.ts',
    line: `import 'node:fs';`,
    layerRule: 'core-is-closed',
    lintMessage: 'closed: core is pure',
  },
  {
    what: 'core importing io',
    file: 'src/core/grid/shift.ts',
    line: `import '../../io/read.js';`,
    layerRule: 'core-not-to-io-report-tasks-files-cli',
    lintMessage: 'layers: core may import',
  },
  {
    what: 'a second file of core importing the projection library',
    file: 'src/core/grid/shift.ts',
    line: `import 'proj4';`,
    layerRule: 'one-importer-proj4',
    lintMessage: 'closed: core is pure',
  },
  {
    what: 'records importing core',
    file: 'src/records/point.ts',
    line: `import '../core/grid/shift.js';`,
    layerRule: 'records-not-to-core-io-report-tasks-files-cli',
    lintMessage: 'layers: records import',
  },
  {
    what: 'a task importing io',
    file: 'src/tasks/run.ts',
    line: `import '../io/read.js';`,
    layerRule: 'tasks-not-to-io-report-files-cli',
    lintMessage: 'layers: tasks may import',
  },
  {
    what: 'a report importing a task',
    file: 'src/report/page.ts',
    line: `import '../tasks/run.js';`,
    layerRule: 'report-not-to-io-tasks-files-cli',
    lintMessage: 'layers: report may import',
  },
  {
    what: 'a file layer importing a command',
    file: 'src/files/open.ts',
    line: `import '../cli/main.js';`,
    layerRule: 'files-not-to-report-cli',
    lintMessage: 'layers: files may import',
  },
  {
    what: 'io importing a report',
    file: 'src/io/read.ts',
    line: `import '../report/page.js';`,
    layerRule: 'io-not-to-report-tasks-files-cli',
    lintMessage: 'layers: io may import',
  },
  {
    what: 'cli importing the CSV parser',
    file: 'src/cli/main.ts',
    line: `import 'csv-parse';`,
    layerRule: 'one-importer-csv-parse',
    lintMessage: 'closed: that package sits behind',
  },
];

/** Places that only one of the two checks can see. */
const LINT_ONLY: readonly { what: string; file: string; line: string; message: string }[] = [
  {
    what: 'a clock in core',
    file: 'src/core/grid/shift.ts',
    line: 'export const now: number = Date.now();',
    message: 'pure:',
  },
  {
    what: 'a random number',
    file: 'src/io/read.ts',
    line: 'export const lot: number = Math.random();',
    message: 'deterministic:',
  },
  {
    what: 'text read by Number',
    file: 'src/io/read.ts',
    line: `export const zero: number = Number('');`,
    message: 'numbers:',
  },
  {
    what: 'text written by toFixed',
    file: 'src/report/page.ts',
    line: 'export const text: string = (1.005).toFixed(2);',
    message: 'numbers:',
  },
  {
    what: 'state at the level of a module in core',
    file: 'src/core/grid/shift.ts',
    line: 'export let count = 0;',
    message: 'pure: no state',
  },
  { what: 'a class that is no Error', file: 'src/tasks/run.ts', line: 'export class Runner {}', message: 'shapes:' },
  { what: 'a default export', file: 'src/tasks/run.ts', line: 'export default 1;', message: 'shapes:' },
  {
    what: 'a list spread into arguments',
    file: 'src/tasks/run.ts',
    line: 'export const most = (list: readonly number[]): number => Math.max(0, ...list);',
    message: 'bounded:',
  },
  {
    what: 'a list spread into arguments by way of a literal',
    file: 'src/tasks/run.ts',
    line: 'export const sum = (list: readonly number[]): number => Math.max(...[1, ...list]);',
    message: 'bounded:',
  },
  {
    what: 'a list spread into a constructor',
    file: 'src/tasks/run.ts',
    line: 'export const made = (list: readonly number[]): unknown[] => new Array<unknown>(...list);',
    message: 'bounded:',
  },
  {
    what: 'a number for a place that is not in a list',
    file: 'src/tasks/run.ts',
    line: 'export const first = (list: readonly number[]): number => list[0] ?? 0;',
    message: 'absent: read a place',
  },
  {
    what: 'a height of 0 for one that is not known',
    file: 'src/tasks/run.ts',
    line: 'export const rise = (heightM: number | null): number => 1 + (heightM ?? 0);',
    message: 'absent: a quantity',
  },
  {
    what: 'a count of 0 for one that nobody made',
    file: 'src/tasks/run.ts',
    line: 'export const times = (count: number | null): number => count ?? 0;',
    message: "absent: 0, '' and [] are values",
  },
  {
    what: 'a text without letters for one that is not there',
    file: 'src/tasks/run.ts',
    line: "export const named = (name: string | null): string => name ?? '';",
    message: "absent: 0, '' and [] are values",
  },
  {
    what: 'a list without entries for one that is not there',
    file: 'src/tasks/run.ts',
    line: 'export const all = (list: readonly number[] | null): readonly number[] => list ?? [];',
    message: "absent: 0, '' and [] are values",
  },
  {
    what: 'a height of 0 for a name that no height is known by',
    file: 'src/tasks/run.ts',
    line: "export const risen = (heightM: ReadonlyMap<string, number>): number => heightM.get('a') ?? 0;",
    message: "absent: 0, '' and [] are values",
  },
  {
    what: 'a function of more than 60 lines',
    file: 'src/tasks/run.ts',
    line: `export const long = (): number => {\n  let sum = 0;\n${'  sum += 1;\n'.repeat(60)}  return sum;\n};`,
    message: 'too many lines',
  },
  { what: 'a message by console', file: 'src/io/read.ts', line: `console.log('read');`, message: 'console' },
];

let tree = '';

function write(file: string, text: string): void {
  mkdirSync(dirname(join(tree, file)), { recursive: true });
  writeFileSync(join(tree, file), text);
}

beforeAll(() => {
  tree = realpathSync(mkdtempSync(join(tmpdir(), 'pegbook-layers-')));
  for (const [file, text] of Object.entries(TREE)) write(file, text);
  symlinkSync(join(ROOT, 'node_modules'), join(tree, 'node_modules'), 'junction');
});

afterAll(() => {
  rmSync(tree, { recursive: true, force: true });
});

async function layerViolations(folder: string, parts: readonly string[]): Promise<readonly string[]> {
  const { forbidden, options } = layerRules;
  const cruiseOptions: ICruiseOptions = { ...options, baseDir: folder, validate: true, ruleSet: { forbidden } };
  const result = await cruise([...parts], cruiseOptions, undefined, {});
  const { summary } = result.output as ICruiseResult;
  return summary.violations.map((violation) => `${violation.rule.name}: ${violation.from} -> ${violation.to}`);
}

async function lintMessages(folder: string, files: readonly string[]): Promise<readonly string[]> {
  const eslint = new ESLint({ cwd: folder, overrideConfigFile: join(ROOT, 'eslint.config.js') });
  const results = await eslint.lintFiles([...files]);
  return results.flatMap((result) => result.messages.map((message) => `${result.filePath}: ${message.message}`));
}

describe('the layer checks on a small tree', () => {
  it('find nothing where nothing is planted', async () => {
    expect(await layerViolations(tree, ['src'])).toEqual([]);
    expect(await lintMessages(tree, ['src'])).toEqual([]);
  });

  for (const plant of PLANTS) {
    it(`both catch ${plant.what}`, async () => {
      write(plant.file, `${plant.line}\n${TREE[plant.file] ?? ''}`);
      try {
        const layers = await layerViolations(tree, ['src']);
        expect(layers.map((text) => text.slice(0, text.indexOf(':')))).toContain(plant.layerRule);
        const lint = await lintMessages(tree, [plant.file]);
        expect(
          lint.filter((text) => text.includes(plant.lintMessage)),
          lint.join('\n'),
        ).not.toHaveLength(0);
      } finally {
        write(plant.file, TREE[plant.file] ?? '');
      }
    });
  }

  for (const plant of LINT_ONLY) {
    it(`the lint catches ${plant.what}`, async () => {
      write(plant.file, `${TREE[plant.file] ?? ''}\n${plant.line}\n`);
      try {
        const lint = await lintMessages(tree, [plant.file]);
        expect(
          lint.filter((text) => text.includes(plant.message)),
          lint.join('\n'),
        ).not.toHaveLength(0);
      } finally {
        write(plant.file, TREE[plant.file] ?? '');
      }
    });
  }
});

describe('the lint of what is absent', () => {
  it('takes a default with its reason, and what a text or a table of counts leaves out', async () => {
    write(
      'src/tasks/run.ts',
      `${TREE['src/tasks/run.ts'] ?? ''}
// Not known: as level.
export const rise = (heightM: number | null): number => 1 + (heightM ?? 0);
export const group = (text: string): string => /a(b)?/u.exec(text)?.[1] ?? '';
export const count = (counts: ReadonlyMap<string, number>): number => (counts.get('a') ?? 0) + 1;
export const under = (lists: ReadonlyMap<string, readonly number[]>): readonly number[] => lists.get('a') ?? [];
export const size = (list: readonly number[] | null): number => list?.length ?? 0;
export const known = (list: readonly (number | null)[]): readonly number[] => list.flatMap((entry) => entry ?? []);
`,
    );
    try {
      expect(await lintMessages(tree, ['src/tasks/run.ts'])).toEqual([]);
    } finally {
      write('src/tasks/run.ts', TREE['src/tasks/run.ts'] ?? '');
    }
  });
});

describe('the layer check on this tree', () => {
  it('finds nothing', async () => {
    expect(await layerViolations(ROOT, ['src', 'bin', 'tests', 'tools'])).toEqual([]);
  });
});

describe('the list of long functions', () => {
  it('names files that are there, each once and for more than 60 lines', () => {
    for (const [file, most] of LONG_FUNCTIONS) {
      expect(existsSync(join(ROOT, file)), file).toBe(true);
      expect(most, file).toBeGreaterThan(60);
    }
    expect(new Set(LONG_FUNCTIONS.map(([file]) => file)).size).toBe(LONG_FUNCTIONS.length);
  });

  it('says how long the longest is, so that none of them is there for a function that was split', async () => {
    const rule: Linter.RuleEntry = ['error', { max: 60, skipBlankLines: true, skipComments: true }];
    const eslint = new ESLint({
      cwd: ROOT,
      overrideConfigFile: true,
      allowInlineConfig: false,
      overrideConfig: {
        files: ['**/*.ts'],
        languageOptions: { parser: tseslint.parser },
        rules: { 'max-lines-per-function': rule },
      },
    });
    const results = await eslint.lintFiles(LONG_FUNCTIONS.map(([file]) => file));
    const longest = results.map(({ filePath, messages }) => [
      relative(ROOT, filePath),
      Math.max(...messages.map(({ message }) => Number(/\((\d+)\)/u.exec(message)?.[1]))),
    ]);
    expect(Object.fromEntries(longest)).toEqual(Object.fromEntries(LONG_FUNCTIONS));
  });
});
