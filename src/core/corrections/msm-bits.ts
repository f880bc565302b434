/** Kind of a multiple signal message: the last digit of its number. */
export type MsmDigit = 1 | 2 | 3 | 4 | 5 | 6 | 7;

/** Head of a message with the masks of satellites and of signals, bits. */
export const MSM_HEAD_BITS = 169;

/**
 * Bits for a satellite and for a cell. Those of 3, 6 and 7 are confirmed by sizes of real messages, that of 7 also by the
 * published largest size of 5865 bits; the others from memory.
 */
const BITS: Readonly<Record<MsmDigit, { readonly satellite: number; readonly cell: number }>> = {
  1: { satellite: 10, cell: 15 },
  2: { satellite: 10, cell: 27 },
  3: { satellite: 10, cell: 42 },
  4: { satellite: 18, cell: 48 },
  5: { satellite: 36, cell: 63 },
  6: { satellite: 18, cell: 65 },
  7: { satellite: 36, cell: 80 },
};

/**
 * Length of a multiple signal message, bits: 169 + S·G + S·a + C·b.
 * Given: its kind; satellites S; signals G that any of them has; cells C, pairs of satellite and signal that are sent.
 * Reference: RTCM-10403 (layout from memory); see docs/methods/correction-stream.md.
 */
export function msmBits(kind: MsmDigit, satellites: number, signals: number, cells: number): number {
  const { satellite, cell } = BITS[kind];
  return MSM_HEAD_BITS + satellites * signals + satellites * satellite + cells * cell;
}
