// Random numbers that are told by a seed and a name alone, so that no table depends on the order its parts were made in.

/** A 32-bit hash of text and numbers (FNV-1a, then a finaliser). */
function hash(words) {
  let h = 0x811c9dc5;
  for (const character of words.join('/')) h = Math.imul(h ^ character.codePointAt(0), 0x01000193);
  h = Math.imul(h ^ (h >>> 16), 0x7feb352d);
  h = Math.imul(h ^ (h >>> 15), 0x846ca68b);
  return (h ^ (h >>> 16)) >>> 0;
}

/**
 * A stream of its own for each list of words: xoshiro128**, its state filled from hashes of the words.
 * Given: seed and any words or numbers. Returned: `next` in (0, 1), `between`, `index`, `sign`, `normal` (polar
 * method), `student` (t with n degrees of freedom), `direction` (a unit vector).
 */
export function stream(...words) {
  const s = [1, 2, 3, 4].map((part) => hash([...words, part]) | 0);
  const bits = () => {
    const doubled = Math.imul(s[1], 5);
    const result = Math.imul((doubled << 7) | (doubled >>> 25), 9) >>> 0;
    const t = s[1] << 9;
    s[2] ^= s[0];
    s[3] ^= s[1];
    s[1] ^= s[2];
    s[0] ^= s[3];
    s[2] ^= t;
    s[3] = (s[3] << 11) | (s[3] >>> 21);
    return result;
  };
  for (let i = 0; i < 16; i += 1) bits();
  const next = () => (bits() + 0.5) / 4294967296;
  let kept = null;
  const normal = () => {
    if (kept !== null) {
      const value = kept;
      kept = null;
      return value;
    }
    for (;;) {
      const x = 2 * next() - 1;
      const y = 2 * next() - 1;
      const r = x * x + y * y;
      if (r >= 1) continue;
      const factor = Math.sqrt((-2 * Math.log(r)) / r);
      kept = y * factor;
      return x * factor;
    }
  };
  /** χ²/n of a whole number of degrees of freedom. */
  const meanSquare = (n) => {
    let sum = 0;
    for (let i = 0; i < n; i += 1) sum += normal() ** 2;
    return sum / n;
  };
  return {
    next,
    normal,
    meanSquare,
    student: (n) => normal() / Math.sqrt(meanSquare(n)),
    between: (low, high) => low + (high - low) * next(),
    index: (count) => Math.floor(next() * count),
    sign: () => (next() < 0.5 ? -1 : 1),
    direction: () => {
      const v = [normal(), normal(), normal()];
      const length = Math.hypot(...v);
      return v.map((value) => value / length);
    },
  };
}

/** The list in another order, by the stream. */
export function shuffled(list, random) {
  const out = [...list];
  for (let i = out.length - 1; i > 0; i -= 1) {
    const j = random.index(i + 1);
    [out[i], out[j]] = [out[j], out[i]];
  }
  return out;
}
