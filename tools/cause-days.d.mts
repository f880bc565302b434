import type { CauseDay } from '../src/core/quality/cause/cause-day.js';

/** A cause that can be planted. */
export interface PlantedCause {
  /** Its row in the table of rates. */
  readonly name: string;
  /** What the search should name. */
  readonly cause: string;
  /** Smallest first. */
  readonly sizes: readonly number[];
  readonly unit: string;
}

export interface CauseDays {
  readonly causes: readonly PlantedCause[];
  readonly planted: (name: string, size: number, seed: number, isQuiet?: boolean) => CauseDay;
  readonly pair: (names: readonly [string, string], sizes: readonly [number, number], seed: number) => CauseDay;
  readonly clean: (seed: number, louder?: number, hides?: 'times' | 'base' | null) => CauseDay;
}

/** Given: the functions of the core by name. */
export function createCauseDays(core: Readonly<Record<string, unknown>>): CauseDays;
