import { formatUtc } from '../../../src/core/numeric/text/utc-text.js';
import { loadGridSystem } from '../../../src/files/systems/load-systems.js';

// One invented truth, which every habit of writing tells in its own way: two marks in the strip EPSG:32734, three epochs each, a second
// apart, 2 mm below, on and above the mark's height, so that the mean is the mark.

/** What a row of any habit is made of. */
export interface TruthRow {
  readonly id: string;
  readonly ms: number;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly heightM: number;
}

export const GRID = 'EPSG:32734';
/** 2026-05-23T07:08:09Z: no other date has its day and month. */
const START_MS: number = Date.UTC(2026, 4, 23, 7, 8, 9);
export const MARKS = [
  { id: 'P1', latitudeDeg: -31.512_345_678, longitudeDeg: 21.412_345_678, heightM: 1043.217 },
  { id: 'P2', latitudeDeg: -31.498_765_432, longitudeDeg: 21.434_567_891, heightM: 1051.842 },
] as const;
export const ROWS: readonly TruthRow[] = MARKS.flatMap((mark, place) =>
  [-0.002, 0, 0.002].map((offsetM, epoch) => ({
    ...mark,
    heightM: mark.heightM + offsetM,
    ms: START_MS + (300 * place + epoch) * 1000,
  })),
);

/** The pair of a mark in a grid, in its axes and unit. */
export function gridPair(code: string, latitudeDeg: number, longitudeDeg: number): readonly [number, number] {
  const grid = loadGridSystem(code);
  if (!grid.ok) throw new Error(code);
  const pair = { first: 0, second: 0 };
  grid.value.forward(latitudeDeg, longitudeDeg, pair);
  return [pair.first, pair.second];
}

/** ISO 8601 of a time, `offset` minutes east of UTC, with what stands for T and for Z. */
export function isoText(ms: number, offset = 0, gap = 'T', zone = 'Z'): string {
  return formatUtc(ms + offset * 60_000)
    .replace('T', gap)
    .replace('Z', zone);
}

/** Year, month, day, hour, minute, second as digits. */
export function partsOf(ms: number, offset = 0): readonly [string, string, string, string, string, string] {
  return isoText(ms, offset, '-', '').split(/[-:]/u) as [string, string, string, string, string, string];
}
