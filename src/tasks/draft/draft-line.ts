/** Where the work lies, degrees; the east may lie beyond 180. */
export interface WorkBox {
  readonly southDeg: number;
  readonly northDeg: number;
  readonly westDeg: number;
  readonly eastDeg: number;
}

/** What a setting of a draft may hold; `?` stands for what is to be answered. */
export type DraftValue = string | number | readonly DraftValue[] | { readonly [key: string]: DraftValue };

/** What stands in the place of an answer. */
export const ASKED = '?';

/** A line of a drafted session: a setting, and what it was guessed from or what is asked. */
export interface DraftLine {
  /** The section, then the key: `system`, `grid`; of a base `base`, its id, the key. */
  readonly path: readonly string[];
  readonly value: DraftValue;
  /** What it was guessed from, or what is asked; a comment of its own line for each. */
  readonly why: readonly string[];
  /** Written as a comment: not in force until the mark before it is taken away. */
  readonly isOffered?: boolean;
}

/** A drafted session. */
export interface Draft {
  readonly lines: readonly DraftLine[];
  /** Where the work lies; null where the file does not say it. */
  readonly box: WorkBox | null;
}

/** Whether anything in a value is still to be answered. */
export function isAsking(value: DraftValue): boolean {
  if (typeof value === 'string') return value === ASKED;
  if (typeof value === 'number') return false;
  return Object.values(value).some((entry: DraftValue) => isAsking(entry));
}

/** A line that is asked. */
export function question(path: readonly string[], why: readonly string[]): DraftLine {
  return { path, value: ASKED, why };
}

/** The answers given with the command, by dotted path. */
export type Answers = ReadonlyMap<string, DraftValue>;

/** A value of an answer that takes its line away. */
export const NONE = 'none';
