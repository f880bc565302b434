import process from 'node:process';

/**
 * How a run goes where there are a general way and a faster one for what is most common.
 *
 * - `usual`: the faster one where it pays.
 * - `general`: never the faster one.
 * - `fast`: the faster one wherever it can go, also where an input is too small for it to pay, and in pieces so small that their seams fall
 *   within small inputs.
 *
 * All three give the same bytes.
 */
export type Way = 'usual' | 'general' | 'fast';

/** The way of this process. Set by PEGBOOK_WAY for the test that holds the ways together (`tools/two-ways.mjs`); no option, and nobody else needs it. */
export const WAY: Way = wayNamed(process.env['PEGBOOK_WAY']);

/** A size of pieces: the usual one, or a small one in its place where seams are looked for. */
export function pieceSize(usual: number, small: number): number {
  return WAY === 'fast' ? small : usual;
}

/**
 * The same for the pieces that an input arrives in: both ways that are compared get the small ones, since what is said first of an input
 * with two faults may hang on them.
 */
export function inputPieceSize(usual: number, small: number): number {
  return WAY === 'usual' ? usual : small;
}

function wayNamed(name: string | undefined): Way {
  return name === 'general' || name === 'fast' ? name : 'usual';
}
