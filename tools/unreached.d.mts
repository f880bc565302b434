/** `file: name` of each declaration below `root`/src that nothing reaches from the entries, sorted. */
export function unreached(where?: { readonly root?: string; readonly entries?: readonly string[] }): string[];
