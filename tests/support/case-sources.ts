import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT, textOf } from './repository-files.js';

/** A golden case, and where its numbers come from: null is regression. */
export interface CaseSource {
  readonly folder: string;
  /** Key of docs/references.md, and where in it; null where the case names none. */
  readonly source: { readonly key: string; readonly locator: string } | null;
}

/** Every golden case with the source that a line `# source: KEY, where in it` of its `cmd` names. */
export function sourcesOfCases(): readonly CaseSource[] {
  const folders = readdirSync(join(ROOT, 'tests', 'cases'), { withFileTypes: true }).filter((entry) =>
    entry.isDirectory(),
  );
  return folders.flatMap(({ name: command }) =>
    readdirSync(join(ROOT, 'tests', 'cases', command))
      .sort()
      .map((name) => {
        const folder = `tests/cases/${command}/${name}`;
        const match = /^# source: (\S+), (.+)$/mu.exec(textOf(`${folder}/cmd`));
        return { folder, source: match === null ? null : { key: match[1] ?? '', locator: match[2] ?? '' } };
      }),
  );
}
