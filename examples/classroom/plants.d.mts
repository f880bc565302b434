/** By the name that --plant takes. */
export declare const PLANTS: Readonly<
  Record<string, { readonly isOfWholeDay: boolean; /** Cause or reason that must show it. */ readonly shown: string }>
>;
