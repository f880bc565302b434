import { readFileSync, readdirSync } from 'node:fs';
import { dirname, join, posix } from 'node:path';

/** Files of a folder and below it whose names end so, as paths from the root with `/`. */
export function filesBelow(root, folder, ending) {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
    .filter((name) => name.endsWith(ending))
    .sort();
}

/** Asks of each test which files of `src` it reaches, and how: by its own import, or through others. */
export function createImports(root) {
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

/** Layers whose tests run in this process and in seconds; the others start programs, or check pages. */
const TEST_ROOMS = ['tests/core', 'tests/tasks', 'tests/io', 'tests/report', 'tests/cli'];

/**
 * The tests that are meant to hold a file, the nearest first: those that import it themselves, and those of its room that reach
 * it; then, apart, every other one that reaches it. Of a file that none is meant for, all that reach it.
 */
export function createTestsFor(root) {
  const imports = createImports(root);
  const tests = TEST_ROOMS.flatMap((folder) => filesBelow(root, folder, '.test.ts'));
  return (file) => {
    const room = file.split('/').slice(1, 3).join('/');
    const reaching = tests.filter((test) => imports.reaches(test, file));
    const base = file.split('/').at(-1).replace('.ts', '.test.ts');
    const rank = (test) => {
      if (test.endsWith(`/${base}`)) return 0;
      if (imports.isDirect(test, file)) return 1;
      return test.startsWith(`tests/${room}/`) ? 2 : 3;
    };
    const ranked = reaching.map((test) => ({ test, by: rank(test) })).sort((a, b) => a.by - b.by);
    const near = ranked.filter(({ by }) => by < 3).map(({ test }) => test);
    const far = ranked.filter(({ by }) => by === 3).map(({ test }) => test);
    return near.length === 0 ? { near: far, far: [] } : { near, far };
  };
}
