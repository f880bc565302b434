import type { Drive } from './drive.mjs';
export interface Plan {
  readonly near: readonly string[];
  readonly far: readonly string[];
  readonly long: readonly string[];
}
export function createRound(
  sites: readonly { readonly file: string }[],
  by: {
    readonly drives: readonly Drive[];
    readonly testsFor: (file: string) => Plan;
    /** Tests of a file that take long, by name: only asked with `isLong`. */
    readonly slowTests: (test: string) => readonly string[];
    readonly isLate: () => boolean;
    readonly isNear: boolean;
    readonly isLong: boolean;
    /** What goes on, a line a file of tests. */
    readonly tell: (line: string) => void;
  },
): { readonly run: () => Promise<ReadonlyMap<number, string> | null> };
