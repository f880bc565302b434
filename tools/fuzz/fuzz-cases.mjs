// One case of the fuzz run: made from its kind and seed alone, run through `main`, and judged.
import { Buffer } from 'node:buffer';
import { readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable, Writable } from 'node:stream';
import { anyLine, withOptions } from './options.mjs';
import { seeded } from './random.mjs';
import { KINDS, STEADY } from './seeds.mjs';

const EXITS = new Set([0, 1, 2, 3, 4]);

/** Names of the kinds that these commands can read, and `options` for command lines. */
export function kindNames(commands) {
  const known = new Set(commands.map((spec) => spec.name));
  return [...KINDS.filter((kind) => known.has(kind.argv[0])).map((kind) => kind.name), 'options'];
}

/** The words that read the sound input of a kind. */
export function soundArgv(kindName) {
  return KINDS.find(({ name }) => name === kindName).argv;
}

/** The damaged file and the words of one case. */
export function caseOf(kindName, seed, commands) {
  const random = seeded(seed);
  if (kindName === 'options') return { file: null, bytes: null, argv: anyLine(commands, random) };
  const kind = KINDS.find(({ name }) => name === kindName);
  const spec = commands.find(({ name }) => name === kind.argv[0]);
  let bytes = kind.bytes;
  for (let i = random.pick([1, 1, 1, 2, 2, 3, 5]); i > 0; i -= 1) bytes = random.pick(kind.damage)(bytes, random);
  const argv = random.chance(0.5) ? kind.argv : withOptions(kind.argv, spec, random, 1 + random.index(2));
  return { file: kind.file, bytes, argv };
}

/** Puts the sound files of every case into a folder. */
export function prepareFolder(folder) {
  for (const [name, bytes] of Object.entries(STEADY)) writeFileSync(join(folder, name), bytes);
  for (const kind of KINDS) if (!(kind.file in STEADY)) writeFileSync(join(folder, kind.file), kind.bytes);
}

/** Runs one case in a prepared folder; `onFile` is told of each file that it wrote. Returned: what is wrong with how it ended, or null, its exit code, and what it printed and said. */
export async function runCase(main, kindName, seed, folder, commands, onFile = () => {}) {
  const { file, bytes, argv } = caseOf(kindName, seed, commands);
  const before = Object.getOwnPropertyNames(Object.prototype).length;
  if (file !== null) writeFileSync(join(folder, file), bytes);
  const out = collector();
  const err = collector();
  let exit;
  let thrown = null;
  try {
    exit = await main({
      argv: ['node', 'pegbook', ...argv],
      stdin: Object.assign(Readable.from([Buffer.alloc(0)], { objectMode: false }), { isTTY: false }),
      stdout: out.stream,
      stderr: err.stream,
      // A fixed time, so that a record is the same whenever it is written.
      env: { SOURCE_DATE_EPOCH: '1700000000' },
      cwd: () => folder,
    });
  } catch (error) {
    thrown = error;
  }
  const fault =
    thrown === null
      ? judge(exit, out.text(), err.text(), argv, /NaN|Infinity/u.test(bytes?.toString('latin1') ?? argv.join(' ')))
      : `threw ${String(thrown?.stack ?? thrown)}`;
  const polluted = Object.getOwnPropertyNames(Object.prototype).length !== before;
  const left = tidy(folder, exit, onFile);
  if (file !== null) restore(folder, file);
  return {
    exit,
    argv,
    fault: polluted ? 'Object.prototype was changed' : (fault ?? left),
    stdout: out.text(),
    stderr: err.text(),
  };
}

/** `mayEcho`: the input holds NaN as text, which unknown columns hand through. */
function judge(exit, stdout, stderr, argv, mayEcho) {
  if (exit === 70) return `internal error: ${stderr.slice(0, 1500)}`;
  if (!EXITS.has(exit)) return `exit ${String(exit)} is not in the table`;
  if (exit >= 2 && stdout !== '') return `exit ${exit} with ${stdout.length} characters on standard output`;
  if (exit >= 2 && !/\[[a-z]+(?:-[a-z0-9]+)+\]|"code":"|^Usage/mu.test(stderr))
    return `exit ${exit} without a problem code: ${stderr.slice(0, 500)}`;
  if (/\bundefined\b|\[object |\bat .*\.js:\d+:\d+/u.test(stderr) && !argv.some((word) => /undefined/u.test(word)))
    return `an odd message: ${stderr.slice(0, 500)}`;
  // eslint-disable-next-line no-control-regex -- control characters are what it looks for
  if (/[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/u.test(stderr.replaceAll('\r', '')))
    return `control characters reach the terminal: ${JSON.stringify(stderr.slice(0, 500))}`;
  if (stderr.length > 200_000) return `${stderr.length} characters of messages`;
  return exit < 2 ? badData(stdout, mayEcho, argv.includes('jsonl')) : null;
}

/** Data that a machine would choke on: numbers that are none, JSON that is not JSON; of JSON lines each is a document. */
function badData(text, mayEcho, isLines = false) {
  if (!mayEcho && /(?:^|[,:])-?(?:NaN|Infinity)(?:[,}\]\n]|$)/mu.test(text))
    return `a number that is none: ${(/.*(?:NaN|Infinity).*/u.exec(text) ?? [''])[0].slice(0, 300)}`;
  if (!text.startsWith('{')) return null;
  try {
    for (const document of isLines ? text.trimEnd().split('\n') : [text]) JSON.parse(document);
    return null;
  } catch (error) {
    return `standard output is not JSON: ${String(error)}`;
  }
}

/** Removes what the case wrote; tells of temporary files and of outputs that a failed run left. */
function tidy(folder, exit, onFile) {
  let fault = null;
  for (const name of readdirSync(folder)) {
    if (name in STEADY || KINDS.some((kind) => kind.file === name)) continue;
    if (statSync(join(folder, name)).isFile()) onFile(name, readFileSync(join(folder, name)));
    if (name.endsWith('.tmp')) fault = `left ${name} behind`;
    else if (exit >= 2 && !/^out-(?:problems|record)/u.test(name)) fault ??= `exit ${exit} and yet ${name} was written`;
    else if (name.startsWith('out-record')) fault ??= badRecord(readFileSync(join(folder, name), 'utf8'));
    else if (/\.(?:json|geojson)$/u.test(name) && name.startsWith('out-output'))
      fault ??= badData(readFileSync(join(folder, name), 'utf8'), true);
    rmSync(join(folder, name), { recursive: true, force: true });
  }
  return fault;
}

function badRecord(text) {
  try {
    return JSON.parse(text).schema === 'pegbook-run-record' ? null : 'the run record has no schema';
  } catch (error) {
    return `the run record is not JSON: ${String(error)} in ${text.length} characters`;
  }
}

function restore(folder, file) {
  writeFileSync(join(folder, file), STEADY[file] ?? KINDS.find((kind) => kind.file === file).bytes);
}

function collector() {
  const chunks = [];
  const stream = new Writable({
    write(chunk, _encoding, done) {
      chunks.push(Buffer.from(chunk));
      done();
    },
  });
  return { stream, text: () => Buffer.concat(chunks).toString('utf8') };
}
