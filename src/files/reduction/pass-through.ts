import { pushAll } from '../../core/numeric/push-all.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import { openFixes } from './open-fixes.js';
import type { FixInputSettings, OpenedFixes } from './open-fixes.js';
import type { DayPlan } from './prepare-day.js';

/** A day and what its inputs are read with. */
export interface ReadDay<Day extends DayPlan = DayPlan> {
  readonly day: Day;
  readonly settings: FixInputSettings;
}

/** The columns that pass through a run. */
export interface PassThrough {
  /** The only input, left open; null where there are several. */
  readonly first: OpenedFixes | null;
  readonly names: readonly string[];
}

/** Names of the columns that pass through: of all inputs of all days, in the order they first occur. Problems: those of opening an input. */
export async function passThroughNames(days: readonly ReadDay[]): Promise<Outcome<PassThrough>> {
  const names = new Set<string>();
  const problems: Problem[] = [];
  const isOne = days.reduce((count, { day }) => count + day.paths.length, 0) === 1;
  for (const { day, settings } of days) {
    for (const [index, path] of day.paths.entries()) {
      const opened = await openFixes(path, day.firstSource + index, settings, day.surroundings);
      pushAll(problems, opened.problems);
      if (!opened.ok) return failureOf(problems);
      if (isOne) return success({ first: opened.value, names: opened.value.input.passThroughNames }, problems);
      for (const name of opened.value.input.passThroughNames) names.add(name);
      await opened.value.source.close();
    }
  }
  return success({ first: null, names: [...names] }, problems);
}

/** Positions of the run's pass-through columns in one input; null where they are the same. */
export function remapping(opened: OpenedFixes, names: readonly string[]): readonly number[] | null {
  const own = opened.input.passThroughNames;
  return own.length === names.length && own.every((name, index) => name === names[index])
    ? null
    : names.map((name) => own.indexOf(name));
}
