import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT, textOf } from './repository-files.js';

/** A golden case, and where its numbers come from. */
export interface CaseSource {
  readonly folder: string;
  /** Whether it expects a number of three decimals or more, in what is printed or written; the line that names the geoid is no result. */
  readonly isNumeric: boolean;
  /** What its `cmd` says of the source: `regression` is what the program gave; null where it says nothing. */
  readonly said: string | null;
  /** Key of docs/references.md, and where in it; null where the case names none. */
  readonly source: { readonly key: string; readonly locator: string } | null;
}

/** Every golden case with what the line `# source: KEY, where in it` or `# source: regression` of its `cmd` says. */
export function sourcesOfCases(): readonly CaseSource[] {
  const folders = readdirSync(join(ROOT, 'tests', 'cases'), { withFileTypes: true }).filter((entry) =>
    entry.isDirectory(),
  );
  return folders.flatMap(({ name: command }) =>
    readdirSync(join(ROOT, 'tests', 'cases', command))
      .sort()
      .map((name) => {
        const folder = `tests/cases/${command}/${name}`;
        const said = /^# source: (.+)$/mu.exec(textOf(`${folder}/cmd`))?.[1] ?? null;
        const match = /^(\S+), (.+)$/u.exec(said ?? '');
        return {
          folder,
          isNumeric: expectsNumbers(folder),
          said,
          source: match === null ? null : { key: match[1] ?? '', locator: match[2] ?? '' },
        };
      }),
  );
}

function expectsNumbers(folder: string): boolean {
  return readdirSync(join(ROOT, folder))
    .filter((name) => name === 'expout' || name === 'experr' || name.startsWith('expected-'))
    .some((name) => {
      const text = readFileSync(join(ROOT, folder, name), 'latin1').replaceAll(/^pegbook: geoid .*$/gmu, '');
      return /[0-9]\.[0-9]{3}/u.test(text);
    });
}
