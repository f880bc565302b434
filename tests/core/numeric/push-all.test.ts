import { describe, expect, it } from 'vitest';
import { pushAll } from '../../../src/core/numeric/push-all.js';

describe('pushAll', () => {
  it('adds more values than a call takes arguments, in their order', () => {
    const list = [-1];
    pushAll(
      list,
      Array.from({ length: 500_000 }, (_, index) => index),
    );
    expect(list.length).toBe(500_001);
    expect(list[0]).toBe(-1);
    expect(list[500_000]).toBe(499_999);
  });
});
