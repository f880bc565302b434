/**
 * Compares texts as people order names: runs of digits as numbers (`P2` before `P10`), all else by code point; of two that are equal
 * so, the shorter run of zeros comes first. Returned: below, at or above 0.
 */
export function compareNaturally(a: string, b: string): number {
  const [left, right] = [piecesOf(a), piecesOf(b)];
  for (let at = 0; at < Math.min(left.length, right.length); at += 1) {
    const order = comparePieces(left[at] as string, right[at] as string);
    if (order !== 0) return order;
  }
  return left.length - right.length || a.length - b.length;
}

function piecesOf(text: string): readonly string[] {
  return text.match(/\d+|\D+/gu) ?? [];
}

const DIGIT = /^\d/u;

function comparePieces(a: string, b: string): number {
  if (!DIGIT.test(a) || !DIGIT.test(b)) return a === b ? 0 : a < b ? -1 : 1;
  const [x, y] = [a.replace(/^0+/u, ''), b.replace(/^0+/u, '')];
  if (x.length !== y.length) return x.length - y.length;
  return x === y ? 0 : x < y ? -1 : 1;
}
