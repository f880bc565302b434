import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ROOT, textOf } from '../repository-files.js';
import { openTerminal } from '../run-command-line.js';
import { proseOf } from './equations.js';

/** What numbers of a lesson are computed from. */
export interface Lesson {
  /** The numbers in what the blocks of the page print, found by a pattern with groups; a page of another name where one is given. */
  readonly shown: (pattern: RegExp, page?: string) => readonly number[];
  /** What a command prints that is run beside the examples. */
  readonly printed: (line: string) => Promise<string>;
  /** The rows of a table that a command wrote, or of a file of the repository. */
  readonly rows: (path: string) => readonly Row[];
  /** Writes a file beside the examples. */
  readonly write: (name: string, text: string) => void;
  /** Takes away the folder that it works in. */
  readonly close: () => void;
}

export type Row = Readonly<Record<string, string>>;

/** A place of the prose with `#` for each number that is worked out, and what they are; after a `−` a negative one. */
export interface Worked {
  readonly says: string;
  readonly are: (lesson: Lesson) => readonly number[] | Promise<readonly number[]>;
}

/** A lesson by its name, in a folder of its own that holds a copy of the examples. */
export function openLesson(page: string): Lesson {
  const folder = mkdtempSync(join(tmpdir(), 'pegbook-lesson-'));
  cpSync(join(ROOT, 'examples'), join(folder, 'examples'), { recursive: true });
  const terminal = openTerminal(folder);
  return {
    shown(pattern, name = page) {
      const blocks = [...textOf(`docs/lessons/${name}`).matchAll(/```[^`]*```/gu)].map(([block]) => block).join('\n');
      return (pattern.exec(blocks) ?? []).slice(1).map(Number);
    },
    async printed(line) {
      const { stdout, stderr } = await terminal.run(line);
      return `${stdout.toString('utf8')}${stderr}`;
    },
    rows(path) {
      const own = join(folder, path);
      const [header = '', ...lines] = readFileSync(existsSync(own) ? own : join(ROOT, path), 'utf8')
        .trim()
        .split(/\r?\n/u)
        .filter((line) => !line.startsWith('#'));
      const names = header.split(',');
      return lines.map((line) => {
        const cells = line.split(',');
        return Object.fromEntries(names.map((name, index) => [name, cells[index] ?? ''])); // A row may be shorter.
      });
    },
    close() {
      rmSync(folder, { recursive: true, force: true });
    },
    write(name, text) {
      writeFileSync(join(folder, name), text);
    },
  };
}

/** Prose with its spaces and lines run together. */
export function flatProse(page: string): string {
  return proseOf(page).replaceAll(/\s+/gu, ' ');
}

/** A number of prose, with its place. */
export interface Written {
  readonly text: string;
  readonly at: number;
  readonly isNegative: boolean;
}

/** The numbers of a phrase in flat prose; null where the phrase is not there, or more than once. */
export function numbersOf(prose: string, says: string): readonly Written[] | null {
  const pattern = says
    .split('#')
    .map((piece) => piece.replaceAll(/[\\^$.*+?()[\]{}|/]/gu, String.raw`\$&`))
    .join(String.raw`(\d+(?:\.\d+)?)`);
  const [found, another] = [...prose.matchAll(new RegExp(pattern, 'dgu'))];
  if (found === undefined || another !== undefined) return null;
  return found.slice(1).map((text, index) => {
    const at = found.indices?.[index + 1]?.[0] ?? Number.NaN; // Every group of the phrase took part.
    return { text, at, isNegative: prose[at - 1] === '−' };
  });
}

/** Numbers that a question or an example begins with: they stand as they are, and nothing computes them. */
export function given(says: string, ...values: readonly number[]): Worked {
  return { says, are: () => values };
}

/** What a page says where it should say something else, as `written, is value`. */
export function faultsOf(prose: string, says: string, values: readonly number[]): readonly string[] {
  const written = numbersOf(prose, says);
  if (written === null) return [`not once in the page: ${says}`];
  if (values.length !== written.length) return [`${values.length} values of ${written.length}: ${says}`];
  return written.flatMap(({ text, isNegative }, index) => {
    const value = (values[index] ?? Number.NaN) * (isNegative ? -1 : 1);
    const decimals = text.split('.')[1]?.length ?? 0; // A whole number has none.
    const holds = Math.abs(value - Number(text)) <= 0.5 * 10 ** -decimals * (1 + 1e-9);
    return holds ? [] : [`${text} is ${value}: ${says}`];
  });
}
