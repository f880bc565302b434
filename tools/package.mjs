// `npm run package`: the program as one executable file for the machine this runs on, with the engine, the geoid and the systems inside.
// Node's own single-executable application: our code put into one script, a blob of it and of the files it reads, and a copy of the
// running engine that carries the blob. The same sources, packages and engine give the same bytes.
//
//   node tools/package.mjs [--out FOLDER] [--code-cache] [--engine FILE]
//
// FOLDER is packaged/ unless named. FILE is an engine of the same version for another system, such as node.exe: a copy of it carries the program
// instead of one of the running engine, which makes the blob. With --code-cache the engine's compiled form of our code is kept in it: it starts sooner, and its
// bytes differ from one making to the next.
import { inject } from 'postject';
import { rolldown } from 'rolldown';
import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

/** Node's documentation, "Single executable applications": the name of the blob, of its segment, and the fuse that says it is there. */
const BLOB = 'NODE_SEA_BLOB';
const SEGMENT = 'NODE_SEA';
const FUSE = 'NODE_SEA_FUSE_fce680ab2cc467b6e072b8b5df1996b2';

const root = fileURLToPath(new URL('..', import.meta.url));
const dist = (path) => join(root, 'dist', path);

/** One script of an entry, with every package in it. */
async function oneScript(source, file) {
  const entry = '\0entry';
  const build = await rolldown({
    input: { main: entry },
    platform: 'node',
    plugins: [
      { name: 'entry', resolveId: (id) => (id === entry ? id : null), load: (id) => (id === entry ? source : null) },
    ],
    logLevel: 'silent',
  });
  await build.write({
    file,
    format: 'cjs',
    codeSplitting: false,
  });
  await build.close();
}

/** Scripts of threads, each by itself: its name, and where it begins. */
const WORKERS = {
  'reduce-worker.cjs': 'cli/commands/reduce-points/blocks/reduce-worker.js',
  'transform-worker.cjs': 'cli/commands/transform/blocks/transform-worker.js',
};

/** The files of the program by the names that `src/io/host/program-files.ts` asks for. */
function assetsOf(folder) {
  const registry = dirname(createRequire(import.meta.url).resolve('epsg-index/package.json'));
  const names = readdirSync(join(registry, 's'))
    .sort()
    .map((name) => `s/${name}`);
  writeFileSync(join(folder, 'names.json'), JSON.stringify(names));
  return Object.fromEntries([
    ['egm96-15-minute.bin', dist('egm96-15-minute.bin')],
    ...Object.keys(WORKERS).map((name) => [name, join(folder, name)]),
    ['registry/names.json', join(folder, 'names.json')],
    ...['all.json', ...names].map((name) => [`registry/${name}`, join(registry, name)]),
  ]);
}

/** The injector warns of names that the notes of an engine have not, which nothing reads. */
async function quietly(work) {
  const { warn, error } = console;
  const say = (own) => (text) => (/string offset for section name/u.test(String(text)) ? undefined : own(text));
  Object.assign(console, { warn: say(warn), error: say(error) });
  try {
    return await work();
  } finally {
    Object.assign(console, { warn, error });
  }
}

const { values } = parseArgs({
  options: { out: { type: 'string' }, 'code-cache': { type: 'boolean' }, engine: { type: 'string' } },
});
const out = resolve(values.out ?? join(root, 'packaged'));
const engine = values.engine === undefined ? process.execPath : resolve(values.engine);
const carrier = readFileSync(engine);
const fault = !carrier.includes(FUSE)
  ? `it is not one of Node's own builds, or is linked against a library of its own`
  : !carrier.includes(process.version)
    ? `it is not of ${process.version}, which makes the blob`
    : values.engine !== undefined && values['code-cache'] === true
      ? 'the compiled form of the code is of the running engine alone: leave out --code-cache'
      : null;
if (fault !== null) {
  console.error(`${engine} cannot carry a program: ${fault}`);
  process.exit(1);
}
// A program of Windows begins with these two letters.
const isForWindows = carrier.subarray(0, 2).toString('latin1') === 'MZ';
const folder = mkdtempSync(join(tmpdir(), 'pegbook-package-'));
try {
  const main = JSON.stringify(dist('cli/main.js'));
  await oneScript(
    `import { main } from ${main};\nmain(process).then((code) => { process.exitCode = code; });\n`,
    join(folder, 'main.cjs'),
  );
  for (const [name, path] of Object.entries(WORKERS))
    await oneScript(`import ${JSON.stringify(dist(path))};\n`, join(folder, name));
  const blob = join(folder, 'program.blob');
  // The blob holds the path of the script as it is named here: by itself, so that no folder of this machine is in it.
  const config = {
    main: 'main.cjs',
    output: blob,
    disableExperimentalSEAWarning: true,
    useCodeCache: values['code-cache'] === true,
    assets: assetsOf(folder),
  };
  writeFileSync(join(folder, 'config.json'), JSON.stringify(config));
  const made = spawnSync(process.execPath, ['--experimental-sea-config', 'config.json'], {
    cwd: folder,
    encoding: 'utf8',
  });
  if (made.status !== 0) throw new Error(made.stderr);
  mkdirSync(out, { recursive: true });
  const file = join(out, isForWindows ? 'pegbook.exe' : 'pegbook');
  rmSync(file, { force: true });
  copyFileSync(engine, file);
  chmodSync(file, 0o755);
  await quietly(() => inject(file, BLOB, readFileSync(blob), { sentinelFuse: FUSE, machoSegmentName: SEGMENT }));
  copyFileSync(dist('THIRD-PARTY-NOTICES.txt'), join(out, 'THIRD-PARTY-NOTICES.txt'));
  console.log(
    `${file}: ${(readFileSync(file).length / 1e6).toFixed(1)} MB, engine ${process.version}, ${values.engine === undefined ? `${process.platform} ${process.arch}` : `as ${values.engine}`}`,
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}
