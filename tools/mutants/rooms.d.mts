import type { Site } from './sites.mjs';
export const ROOMS: readonly string[];
export function roomOf(site: { readonly file: string }): string;
export function everySite(root: string, under?: readonly string[]): readonly Site[];
