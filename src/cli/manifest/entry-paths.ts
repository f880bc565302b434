import { resolve } from 'node:path';
import type { ManifestRow } from '../../io/tables/manifest-read.js';
import { errorProblem } from '../../records/problem.js';
import type { Location, Problem } from '../../records/problem.js';
import type { EntryOption } from './entry-options.js';

/** What paths of entries are looked at with. */
interface PathPlace {
  readonly options: readonly EntryOption[];
  /** Column of the inputs. */
  readonly argument: string;
  readonly source: string;
  /** Of the manifest, absolute. */
  readonly path: string;
  readonly folder: string;
  readonly header: readonly string[];
}

/** A path that a cell names. */
interface NamedPath {
  readonly path: string;
  readonly isWritten: boolean;
  readonly line: number;
  readonly column: string;
}

/**
 * What is wrong with the paths of the entries together: manifest-path-twice where a file that one writes is written or read by
 * another, in any case of letters, which some systems take for one; usage-conflict for standard input and output, of which there is one.
 */
export function pathProblems(rows: readonly ManifestRow[], place: PathPlace): readonly Problem[] {
  const paths = rows.flatMap((row) => pathsOf(row, place));
  const where = ({ line, column }: NamedPath): Location => ({
    source: place.source,
    line,
    field: place.header.findIndex((name) => name.toLowerCase() === column) + 1,
    column,
  });
  const keyOf = ({ path }: NamedPath): string => resolve(place.folder, path).normalize('NFC').toLowerCase();
  const written = new Map<string, NamedPath>();
  const problems: Problem[] = [];
  const twice = (one: NamedPath, other: NamedPath, did: string): void => {
    problems.push(
      errorProblem('manifest-path-twice', {
        message: `${one.path} is ${did} in line ${String(other.line)} (${other.column}) too`,
        where: where(one),
        received: one.path,
        expected: 'files of its own for each entry',
        hint:
          one.line === other.line
            ? 'give each output of the entry its own file'
            : 'give the entry other files, or take out the entry that stands there twice',
      }),
    );
  };
  for (const named of paths) {
    if (named.path === '-')
      problems.push(
        errorProblem('usage-conflict', {
          message: '- is standard input or output, which the entries of a manifest do not have',
          where: where(named),
          received: named.path,
          expected: 'a file',
          hint: 'name a file',
        }),
      );
    if (!named.isWritten || named.path === '-') continue;
    if (keyOf(named) === keyOf({ ...named, path: place.path })) {
      problems.push(
        errorProblem('manifest-path-twice', {
          message: `${named.path} is the manifest itself`,
          where: where(named),
          received: named.path,
          expected: 'files of its own for each entry',
          hint: 'give the entry another file',
        }),
      );
      continue;
    }
    const earlier = written.get(keyOf(named));
    if (earlier === undefined) written.set(keyOf(named), named);
    else twice(named, earlier, 'written');
  }
  for (const named of paths.filter(({ isWritten, path }) => !isWritten && path !== '-')) {
    const other = written.get(keyOf(named));
    if (other !== undefined) twice(other, named, 'read');
  }
  return problems;
}

function pathsOf({ line, values }: ManifestRow, { options, argument }: PathPlace): readonly NamedPath[] {
  const columns = [
    { name: argument, isWritten: false },
    ...options.filter(({ isRead, isWritten }) => isRead || isWritten),
  ];
  return columns.flatMap(({ name, isWritten }) => {
    const value = values.get(name);
    const paths = Array.isArray(value) ? value.map(String) : value === undefined ? [] : [String(value)];
    return paths.map((path) => ({ path, isWritten, line, column: name }));
  });
}
