import { describe, expect, it } from 'vitest';
import { dayOfOccupation, occupationOfDay } from '../../../src/tasks/job/occupation-name.js';

describe('dayOfOccupation', () => {
  it('is the day of a name made of it', () => {
    expect(dayOfOccupation(occupationOfDay('2026-03-09', '12'))).toBe('2026-03-09');
  });
  it.each([
    ['1', null],
    ['1+2', null],
    ['/1', ''],
    ['a/b/1', 'a/b'],
    ['mon/1+mon/2', 'mon'],
    ['mon/1+2', null],
    ['1+mon/2', null],
    ['mon/1+mon/2+tue/1', null],
    ['mon/1+tue/1', null],
  ])('of %s is %s', (name, day) => {
    expect(dayOfOccupation(name)).toBe(day);
  });
});
