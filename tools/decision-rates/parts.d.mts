/** The parts of the page in their order. */
export const PARTS: readonly { readonly name: string }[];
/** Every job of the named parts. */
export function jobsOf(
  settings: { readonly isQuick: boolean; readonly scale: number; readonly seed: number },
  names: readonly string[],
): readonly { readonly id: string }[];
