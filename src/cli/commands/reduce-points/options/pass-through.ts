import { openFixes } from '../../../../files/reduction/open-fixes.js';
import type { FixInputSettings, OpenedFixes } from '../../../../files/reduction/open-fixes.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { RunDay } from '../prepare-run.js';

/** A day and what its inputs are read with. */
export interface ReadDay {
  readonly day: RunDay;
  readonly settings: FixInputSettings;
}

/** Names of the columns that pass through: of all inputs of all days, in the order they first occur. A single input is left open. */
export async function passThroughNames(
  days: readonly ReadDay[],
  bench: Workbench,
): Promise<{ readonly first: OpenedFixes | null; readonly names: readonly string[] }> {
  const names = new Set<string>();
  const isOne = days.reduce((count, { day }) => count + day.paths.length, 0) === 1;
  for (const { day, settings } of days) {
    for (const [index, path] of day.paths.entries()) {
      const opened = bench.take(await openFixes(path, day.firstSource + index, settings, day.surroundings));
      if (isOne) return { first: opened, names: opened.input.passThroughNames };
      for (const name of opened.input.passThroughNames) names.add(name);
      await opened.source.close();
    }
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
