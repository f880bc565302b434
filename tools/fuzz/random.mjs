// Numbers that look random and are the same in every run: a case is told by its seed alone.

/** A generator from a 32-bit seed: `next` in [0, 1), `index` of a list, `pick`, `chance`. */
export function seeded(seed) {
  let state = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const index = (count) => Math.floor(next() * count);
  return { next, index, pick: (list) => list[index(list.length)], chance: (p) => next() < p };
}
