import { openFixes } from '../../../../files/reduction/open-fixes.js';
import type { FixInputSettings, OpenedFixes } from '../../../../files/reduction/open-fixes.js';
import type { Workbench } from '../../../shell/workbench.js';

/** Names of the columns that pass through: of all inputs, in the order they first occur. */
export async function passThroughNames(
  paths: readonly string[],
  settings: FixInputSettings,
  bench: Workbench,
): Promise<{ readonly first: OpenedFixes | null; readonly names: readonly string[] }> {
  const names = new Set<string>();
  if (paths.length === 1) {
    const first = bench.take(await openFixes(paths[0] ?? '-', 0, settings, bench.context));
    return { first, names: first.input.passThroughNames };
  }
  for (const [index, path] of paths.entries()) {
    const opened = bench.take(await openFixes(path, index, settings, bench.context));
    for (const name of opened.input.passThroughNames) names.add(name);
    await opened.source.close();
  }
  return { first: null, names: [...names] };
}

/** Positions of the run's pass-through columns in one input; null where they are the same. */
export function remapping(opened: OpenedFixes, names: readonly string[]): readonly number[] | null {
  const own = opened.input.passThroughNames;
  return own.length === names.length && own.every((name, index) => name === names[index])
    ? null
    : names.map((name) => own.indexOf(name));
}
