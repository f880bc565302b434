export const BROAD: readonly string[];
export const CASES: string;
export function filesBelow(root: string, folder: string, ending: string): readonly string[];
export function testsThatCan(root: string): readonly string[];
export function createSlowTests(root: string): (test: string) => readonly string[];
export const PAGE_TEXTS: string;
