import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import ts from 'typescript';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as files from '../src/files.js';
import * as face from '../src/index.js';
import { ROOT, textOf } from './support/repository-files.js';

// Each `@example` of a public function is run here. A line `expression; // value` is a check: numbers agree to half the last digit
// that is printed. Other lines come before it, as they stand. Files are those of examples/quillback-pan and the folders beside it.

interface Example {
  readonly name: string;
  readonly lines: readonly string[];
}

function exportedFrom(entry: string): readonly (readonly [name: string, path: string])[] {
  return [...textOf(entry).matchAll(/^export \{([^}]*)\} from '\.\/(.*)\.js';$/gmu)].flatMap(
    ([, names = '', path = '']) =>
      names
        .split(',')
        .map((name) => name.trim())
        .filter((name) => /^[a-z]/u.test(name))
        .map((name) => [name, `src/${path}.ts`] as const),
  );
}

/** The lines of a function's example; none where it has none. */
function exampleOf(name: string, path: string): readonly string[] {
  const source = ts.createSourceFile(path, textOf(path), ts.ScriptTarget.Latest, true);
  const found = source.statements.find(
    (statement): statement is ts.FunctionDeclaration =>
      ts.isFunctionDeclaration(statement) && statement.name?.text === name,
  );
  const comment = found === undefined ? undefined : ts.getLeadingCommentRanges(source.text, found.pos)?.at(-1);
  const text = comment === undefined ? '' : source.text.slice(comment.pos, comment.end);
  const [, example = ''] = text.split(/^ \* @example$/mu);
  return example
    .split('\n')
    .map((line) => line.replace(/^ \*\/?/u, '').trim())
    .filter((line) => line !== '');
}

const CHECK = /^([^/].*); \/\/ (.+)$/u;
const EXPORTED = [...exportedFrom('src/index.ts'), ...exportedFrom('src/files.ts')];
/** Those of `pegbook/files` that only wait for a file are run by the programs of docs/library.md (tests/library-page.test.ts). */
const isRunElsewhere = ({ lines }: Example): boolean =>
  lines.some((line) => line.includes('await ')) && !lines.some((line) => CHECK.test(line));
const EXAMPLES: readonly Example[] = EXPORTED.map(([name, path]) => ({ name, lines: exampleOf(name, path) }));
const SCOPE: Readonly<Record<string, unknown>> = { ...face, ...files };

async function evaluated(code: string): Promise<unknown> {
  // eslint-disable-next-line @typescript-eslint/no-implied-eval, @typescript-eslint/no-unsafe-call -- the code is that of our doc comments
  return new Function(...Object.keys(SCOPE), `return (async () => {\n${code}\n})();`)(...Object.values(SCOPE));
}

function expectAlike(found: unknown, expected: unknown, tolerance: number, what: string): void {
  if (typeof expected === 'number' && typeof found === 'number')
    expect(Math.abs(found - expected), `${what}: ${String(found)}`).toBeLessThanOrEqual(tolerance);
  else if (typeof expected === 'object' && expected !== null && typeof found === 'object' && found !== null) {
    expect(Object.keys(found), what).toEqual(Object.keys(expected));
    for (const [key, value] of Object.entries(expected))
      expectAlike((found as Record<string, unknown>)[key], value, tolerance, `${what}: ${key}`);
  } else expect(found, what).toEqual(expected);
}

async function check(lines: readonly string[]): Promise<number> {
  const before: string[] = [];
  const expressions: string[] = [];
  const values: string[] = [];
  for (const line of lines) {
    const [, expression, value] = CHECK.exec(line) ?? [];
    if (expression === undefined || value === undefined) before.push(line);
    else {
      // Evaluated where it stands: what comes after it may change what it looks at.
      before.push(`checked.push(structuredClone(${expression}));`);
      expressions.push(line);
      values.push(value);
    }
  }
  const found = (await evaluated(['const checked = [];', ...before, 'return checked;'].join('\n'))) as unknown[];
  for (const [index, value] of values.entries()) {
    const decimals = Math.max(0, ...[...value.matchAll(/\.(\d+)/gu)].map(([, digits = '']) => digits.length));
    expectAlike(
      found[index],
      await evaluated(`return (${value});`),
      0.5001 * 10 ** -decimals,
      expressions[index] ?? '',
    );
  }
  return values.length;
}

const folder = mkdtempSync(join(tmpdir(), 'pegbook-examples-'));
const cwd = process.cwd();
beforeAll(() => {
  cpSync(join(ROOT, 'examples'), folder, { recursive: true });
  process.chdir(join(folder, 'quillback-pan'));
});
afterAll(() => {
  process.chdir(cwd);
  rmSync(folder, { recursive: true, force: true });
});

describe('examples of the public face', () => {
  for (const { name, lines } of EXAMPLES.filter((example) => example.lines.length > 0 && !isRunElsewhere(example)))
    it(`${name} gives what its example says`, async () => {
      expect(lines.join('\n')).toContain(name);
      expect(await check(lines)).toBeGreaterThan(0);
    });

  it('notices a value that is wrong in its last digit', async () => {
    await expect(check(['ellipsoidalHeightM(1011.5, 31.7); // 1043.3'])).rejects.toThrow(/1043\.3/u);
    await expect(check(["formatFixed(1.5, 2); // '1.51'"])).rejects.toThrow();
  });

  it('are there for every function of the two faces', () => {
    expect(EXAMPLES.length).toBeGreaterThan(100);
    expect(EXAMPLES.filter(({ lines }) => lines.length === 0).map(({ name }) => name)).toEqual([]);
  });
});
