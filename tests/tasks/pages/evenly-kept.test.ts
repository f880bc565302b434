import { describe, expect, it } from 'vitest';
import { keepEvenly } from '../../../src/tasks/pages/evenly-kept.js';

function keptOf(count: number, most: number): readonly number[] {
  const kept = keepEvenly<number>(most);
  for (let i = 0; i < count; i += 1)
    if (kept.wants()) kept.add(i);
    else kept.skip();
  return kept.items();
}

describe('items kept evenly', () => {
  it('are all of a short stream', () => {
    expect(keptOf(7, 8)).toEqual([0, 1, 2, 3, 4, 5, 6]);
  });

  it.each([8, 9, 16, 17, 1000, 100_000])('are fewer than asked, the same step apart, over the whole of %i', (count) => {
    const kept = keptOf(count, 8);
    expect(kept.length).toBeLessThan(8);
    expect(kept.length).toBeGreaterThan(3);
    const step = (kept[1] ?? 0) - (kept[0] ?? 0);
    expect(kept).toEqual(Array.from(kept, (_, index) => index * step));
    expect((kept.at(-1) ?? 0) + step).toBeGreaterThanOrEqual(count);
  });
});
