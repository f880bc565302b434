export const LONG_FUNCTIONS: readonly (readonly [file: string, most: number])[];
