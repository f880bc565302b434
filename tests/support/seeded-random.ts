/** Numbers that look random and are the same in every run. */
export interface SeededRandom {
  /** Uniform in [0, 1), 32 bits. */
  next(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Normal with mean 0 and standard deviation 1. */
  normal(): number;
  /** A whole number from 0 to count − 1. */
  index(count: number): number;
}

/**
 * A small generator for tests: a counter stepped by the golden-ratio constant, scrambled by a
 * 32-bit multiply-and-shift mixer (the generator known as "mulberry32"). Period 2³². Not for
 * cryptography, and not for simulations where single draws must be independent to many digits.
 */
export function seededRandom(seed: number): SeededRandom {
  let state = seed >>> 0;
  let spare: number | null = null;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const normal = (): number => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - next()));
    const angle = 2 * Math.PI * next();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
  return {
    next,
    between: (low, high) => low + (high - low) * next(),
    normal,
    index: (count) => Math.floor(next() * count),
  };
}
