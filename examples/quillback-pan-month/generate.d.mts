export interface GeneratedMonth {
  readonly days: readonly { readonly id: string }[];
}

export declare const MONTH_SEED: number;
export declare const DAY_COUNT: number;
/** Place of the first day on which C-02 stands elsewhere, from 0. */
export declare const MOVED_FROM: number;
export declare function generateMonth(seed: number): GeneratedMonth;
/** The committed files by name. */
export declare function monthFiles(seed: number): Readonly<Record<string, string>>;
