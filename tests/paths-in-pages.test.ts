import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { filesUnder } from './support/repository-files.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
// The bibliography names files of other projects.
const PAGES = [
  'README.md',
  'DEVELOPERS.md',
  'SECURITY.md',
  ...filesUnder('docs', '.md').filter((page) => page !== 'docs/references.md'),
];

/** Paths of the repository that a page names in code spans; a part in <> stands for any name, as in a path with *. */
function pathsOf(page: string): readonly string[] {
  const text = readFileSync(join(ROOT, page), 'utf8');
  return [...text.matchAll(/`((?:src|tests|tools|bin|examples)\/[^`\s:]*)/gu)].map(([, path]) => path ?? '');
}

/** The folder that a path with a placeholder begins with. */
function fixedPart(path: string): string {
  const at = path.search(/[<*{]/u);
  return at < 0 ? path : path.slice(0, path.lastIndexOf('/', at) + 1);
}

describe('every path that the pages name', () => {
  it.each(PAGES)('is there: %s', (page) => {
    expect(pathsOf(page).filter((path) => !existsSync(join(ROOT, fixedPart(path))))).toEqual([]);
  });

  it('is looked for in a guide that names some', () => {
    expect(pathsOf('DEVELOPERS.md').length).toBeGreaterThan(20);
  });

  it('has its code rows right: each file named after a folder is in it', () => {
    const wrong = filesUnder('docs/methods', '.md').flatMap((page) =>
      [...readFileSync(join(ROOT, page), 'utf8').matchAll(/^\| *code *\|(.*)$/gimu)].flatMap(([, row]) =>
        [...(row ?? '').matchAll(/`(src\/[^`]*\/)`: ((?:`[^`]+`(?:, )?)+)/gu)].flatMap(([, folder, names]) =>
          [...(names ?? '').matchAll(/`([a-z0-9-]+\.ts)`/gu)]
            .map(([, name]) => `${folder ?? ''}${name ?? ''}`)
            .filter((path) => !existsSync(join(ROOT, path))),
        ),
      ),
    );
    expect(wrong).toEqual([]);
  });
});
