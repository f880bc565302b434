import { cpSync, existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { openTerminal } from './support/run-command-line.js';

// A case is a folder tests/cases/<command>/<case> with:
//   cmd              one or more lines, run in order in a copy of the folder; where numbers are expected, a line
//                    `# source: KEY, where in it` (docs/references.md) or `# source: regression`
//   expout, experr   what standard output and standard error must be, byte for byte (absent: nothing)
//   exit             the exit code of the last line (absent: 0)
//   stdin            bytes for the first line's standard input (absent: none)
//   uses             paths from the repository's root, one a line, copied in before the run
//   expected-NAME    what the file NAME must hold after the run; a file nobody expects fails the case
// UPDATE=1 rewrites the expectations; review them with git diff.
const ROOT = fileURLToPath(new URL('..', import.meta.url));
const CASES = join(ROOT, 'tests', 'cases');
const UPDATE = process.env['UPDATE'] === '1';
const OWN = ['cmd', 'expout', 'experr', 'exit', 'stdin', 'uses'];
const scratch = mkdtempSync(join(tmpdir(), 'pegbook-cases-'));

afterAll(() => {
  rmSync(scratch, { recursive: true, force: true });
});

interface CaseResult {
  readonly expout: string;
  readonly experr: string;
  readonly exit: string;
  /** Files that the run made or changed, by name. */
  readonly files: ReadonlyMap<string, string>;
}

function folders(path: string): readonly string[] {
  if (!existsSync(path)) return [];
  return readdirSync(path)
    .filter((name) => statSync(join(path, name)).isDirectory())
    .sort();
}

function lines(path: string): readonly string[] {
  if (!existsSync(path)) return [];
  const text = readFileSync(path, 'utf8').replaceAll(/\\\r?\n\s*/g, ' ');
  return text.split(/\r?\n/).filter((line) => line.trim() !== '' && !line.startsWith('#'));
}

function contents(folder: string): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const entry of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
    const path = join(folder, entry);
    if (statSync(path).isFile()) found.set(entry.replaceAll('\\', '/'), readFileSync(path, 'latin1'));
  }
  return found;
}

async function runCase(source: string): Promise<CaseResult> {
  const work = mkdtempSync(join(scratch, 'case-'));
  for (const name of readdirSync(source)) {
    if (!OWN.includes(name) && !name.startsWith('expected-'))
      cpSync(join(source, name), join(work, name), { recursive: true });
  }
  for (const path of lines(join(source, 'uses')))
    cpSync(join(ROOT, path), join(work, basename(path)), { recursive: true });
  const before = contents(work);
  const stdin = existsSync(join(source, 'stdin')) ? readFileSync(join(source, 'stdin')) : undefined;
  const terminal = openTerminal(work);
  let expout = '';
  let experr = '';
  let exit = 0;
  for (const [index, line] of lines(join(source, 'cmd')).entries()) {
    const result = await terminal.run(line, index === 0 ? stdin : undefined);
    expout += result.stdout.toString('latin1');
    experr += Buffer.from(result.stderr, 'utf8').toString('latin1');
    exit = result.exit;
  }
  const files = new Map([...contents(work)].filter(([name, text]) => before.get(name) !== text));
  return { expout, experr, exit: `${exit}\n`, files };
}

function readExpected(source: string, name: string, otherwise: string): string {
  const path = join(source, name);
  return existsSync(path) ? readFileSync(path, 'latin1') : otherwise;
}

function rewrite(source: string, result: CaseResult): void {
  const put = (name: string, text: string, otherwise: string): void => {
    if (text === otherwise) rmSync(join(source, name), { force: true });
    else writeFileSync(join(source, name), text, 'latin1');
  };
  put('expout', result.expout, '');
  put('experr', result.experr, '');
  put('exit', result.exit, '0\n');
  for (const name of readdirSync(source)) if (name.startsWith('expected-')) rmSync(join(source, name));
  for (const [name, text] of result.files)
    writeFileSync(join(source, `expected-${name.replaceAll('/', '__')}`), text, 'latin1');
}

for (const command of folders(CASES)) {
  describe(`pegbook ${command}`, () => {
    for (const name of folders(join(CASES, command))) {
      it(name.replaceAll('-', ' '), async () => {
        const source = join(CASES, command, name);
        expect(lines(join(source, 'cmd')), 'the file cmd holds a line').not.toHaveLength(0);
        const result = await runCase(source);
        if (UPDATE) rewrite(source, result);
        expect(result.expout).toBe(readExpected(source, 'expout', ''));
        expect(result.experr).toBe(readExpected(source, 'experr', ''));
        expect(result.exit.trim()).toBe(readExpected(source, 'exit', '0').trim());
        const made = [...result.files.keys()].map((file) => `expected-${file.replaceAll('/', '__')}`).sort();
        expect(made, 'files made or changed').toEqual(
          readdirSync(source)
            .filter((file) => file.startsWith('expected-'))
            .sort(),
        );
        for (const [file, text] of result.files) {
          expect(text, file).toBe(readExpected(source, `expected-${file.replaceAll('/', '__')}`, ''));
        }
      });
    }
  });
}

describe('the case runner', () => {
  it('finds at least one case of every command folder', () => {
    for (const command of folders(CASES)) expect(folders(join(CASES, command)), command).not.toHaveLength(0);
  });
});
