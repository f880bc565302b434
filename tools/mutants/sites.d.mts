/** A place where one small change may be made; see sites.mjs. */
export interface Site {
  readonly file: string;
  readonly line: number;
  readonly text: string;
  readonly change: string;
  readonly start: number;
  readonly end: number;
  readonly editStart: number;
  readonly editEnd: number;
  readonly editText: string;
  readonly key: string;
}
export function sitesOf(file: string, text: string): readonly Site[];
export function shuffled(sites: readonly Site[], seed: number | string): readonly Site[];
export function instrumented(text: string, sites: readonly Site[], numbers: ReadonlyMap<Site, number>): string;
export function marked(text: string, sites: readonly Site[], numbers: ReadonlyMap<Site, number>): string;
export function drawn(
  sites: readonly Site[],
  seed: number | string,
  how: {
    readonly most: number;
    readonly each: { readonly most: number; readonly of: (site: Site) => string } | null;
  },
): readonly Site[];
