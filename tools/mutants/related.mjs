import { readFileSync, readdirSync } from 'node:fs';
import { dirname, join, posix } from 'node:path';

/** Files of a folder and below it whose names end so, as paths from the root with `/`. */
export function filesBelow(root, folder, ending) {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
    .filter((name) => name.endsWith(ending))
    .sort();
}

/** The golden cases: each a run of a command, of some hundredths of a second, in the process of the test. */
export const CASES = 'tests/cases.test.ts';
/** What stands in pages and is made from the tables of the code: ranges, units, limits, words. It asks every table. */
const PAGES = 'tests/generated-docs.test.ts';
/** What the pages of reports say, command by command. */
export const PAGE_TEXTS = 'tests/report/page-text.test.ts';
/**
 * Tests of other rooms that are asked of each change that they run, even where time is short: those that noticed most, for their
 * time, of the changes that golden cases and the tests of the room had left in samples of 29 November 2026.
 */
export const BROAD = [
  'tests/tasks/explain/recomputed-others.test.ts',
  'tests/cli/commands/plan-baseline/known-by-day.test.ts',
  'tests/cli/commands/adjust-network/covariances-of-pairs.test.ts',
  'tests/io/csv/hidden-characters.test.ts',
  'tests/cli/commands/deliver/delivered-checks.test.ts',
  'tests/files/draft/habits.test.ts',
];
/** Folders whose tests run the code in their own process; the others start programs, or look at pages. */
const TEST_FOLDERS = ['core', 'tasks', 'io', 'files', 'report', 'cli', 'properties', 'examples'];

/** A file of tests that takes longer, in seconds, is asked of single changes only with long ones. */
export const LONGEST_S = 60;

const MORE_TESTS = ['conventions', 'docs', 'library-page', 'limits-page', 'public-examples', 'reference-tables'].map(
  (name) => `tests/${name}.test.ts`,
);

/** Every test that can notice a change, the golden cases left out. */
export const testsThatCan = (root) =>
  TEST_FOLDERS.flatMap((folder) => filesBelow(root, `tests/${folder}`, '.test.ts')).concat(PAGES, ...MORE_TESTS);

/** Asks of each test which files of `src` it reaches, and how: by its own import, or through others. */
function createImports(root) {
  const known = new Map();
  const importsOf = (file) => {
    const found = known.get(file);
    if (found !== undefined) return found;
    let text = '';
    try {
      text = readFileSync(join(root, file), 'utf8');
    } catch {
      // An import of what is not a source file, such as a table of data.
    }
    const own = [...text.matchAll(/(?:from|import|import\()\s*'(\.[^']+)'/g)].map(([, path]) =>
      posix.join(dirname(file).replaceAll('\\', '/'), path).replace(/\.js$/, '.ts'),
    );
    known.set(file, own);
    return own;
  };
  const closures = new Map();
  const closureOf = (test) => {
    const found = closures.get(test);
    if (found !== undefined) return found;
    const seen = new Set([test]);
    const waiting = [test];
    while (waiting.length > 0)
      for (const next of importsOf(waiting.pop()))
        if (!seen.has(next)) {
          seen.add(next);
          waiting.push(next);
        }
    closures.set(test, seen);
    return seen;
  };
  return {
    /** Imports of its own, with those of what it imports from `tests`. */
    isDirect: (test, file) =>
      importsOf(test).some((path) => path === file || (path.startsWith('tests/') && importsOf(path).includes(file))),
    reaches: (test, file) => closureOf(test).has(file),
  };
}

/**
 * The tests that are asked of a change in a file, in order: those that import it themselves and those of its room that reach
 * it; the golden cases and the pages; the few of other rooms that run most; then the quickest others that run it, as
 * `who-runs.json` knows from a run of them all; last, simulations of the first kind, which are left out before by their names.
 */
export function createTestsFor(root) {
  const imports = createImports(root);
  const tests = testsThatCan(root);
  const { seconds, slow, runs } = JSON.parse(readFileSync(join(root, 'tools/mutants/who-runs.json'), 'utf8'));
  return (file) => {
    const room = file.split('/').slice(1, 3).join('/');
    const base = file.split('/').at(-1).replace('.ts', '.test.ts');
    const rank = (test) => {
      if (test.endsWith(`/${base}`)) return 0;
      if (imports.isDirect(test, file)) return 1;
      return test.startsWith(`tests/${room}/`) ? 2 : 3;
    };
    const own = tests
      .filter((test) => imports.reaches(test, file))
      .map((test) => ({ test, by: rank(test) }))
      .filter(({ by }) => by < 3)
      .sort((a, b) => a.by - b.by)
      .map(({ test }) => test);
    const others = (runs[file] ?? []).filter(
      (test) => test !== PAGE_TEXTS && !own.includes(test) && tests.includes(test),
    );
    const said = (runs[file] ?? []).includes(PAGE_TEXTS) ? [PAGE_TEXTS] : [];
    const isLong = (test) => seconds[test] > LONGEST_S;
    return {
      near: [
        ...own.filter((test) => !isLong(test)),
        CASES,
        PAGES,
        ...said,
        ...others.filter((test) => BROAD.includes(test)),
      ],
      far: others.filter((test) => !BROAD.includes(test)),
      long: own.filter((test) => isLong(test) || slow[test] !== undefined),
    };
  };
}

/** The tests of a file that take long by themselves, by name. */
export function createSlowTests(root) {
  const { slow } = JSON.parse(readFileSync(join(root, 'tools/mutants/who-runs.json'), 'utf8'));
  return (test) => slow[test] ?? [];
}
