import type { Site } from './sites.mjs';
export interface Failure {
  readonly place: number;
  readonly test: string;
  readonly isSure: boolean;
}
export interface EachAnswer {
  readonly failed: readonly Failure[];
  readonly outside: readonly number[];
  /** Places that were run in a test, and not when it was run again with the change. */
  readonly once: readonly { readonly place: number; readonly test: string }[];
  readonly ran: readonly number[];
  /** Tests that take long. */
  readonly slow: readonly string[];
  /** Tests that fail without any change. */
  readonly without: readonly string[];
}
export interface Drive {
  readonly fromLoad: (
    place: number,
    test: string,
    only?: string | null,
    leftOut?: readonly string[],
  ) => Promise<string | null>;
  readonly withEach: (
    alive: readonly number[],
    test: string,
    how?: {
      readonly leftOut?: readonly string[];
      readonly isThin?: boolean;
      /** Only every so-many-th test. */
      readonly part?: { readonly number: number; readonly of: number };
    },
  ) => Promise<EachAnswer>;
  readonly close: () => void;
}
export function createDrive(
  root: string,
  sites: readonly Site[],
  how: { readonly limitS: number; readonly isMarked?: boolean; readonly noticed?: string },
): Drive;
