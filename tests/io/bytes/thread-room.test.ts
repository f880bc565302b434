import { describe, expect, it } from 'vitest';
import { hasRoomForThread } from '../../../src/io/bytes/thread-room.js';

const LIMITS = (addressSpace: string): string =>
  `Limit                     Soft Limit           Hard Limit           Units     \nMax cpu time              unlimited            unlimited            seconds   \nMax address space         ${addressSpace.padEnd(20)} unlimited            bytes     \n`;

describe('hasRoomForThread', () => {
  it('is true without bounds, wherever the system says nothing', () => {
    expect(hasRoomForThread(undefined, '')).toBe(true);
    expect(hasRoomForThread(0, LIMITS('unlimited'))).toBe(true);
    // Some systems without a bound state one beyond all memory.
    expect(hasRoomForThread(18446744073709551615, LIMITS('unlimited'))).toBe(true);
    expect(hasRoomForThread(512 * 1_048_576, LIMITS('unlimited'))).toBe(true);
  });

  it('is false near a bound of memory, and where the address space has one', () => {
    expect(hasRoomForThread(511 * 1_048_576, LIMITS('unlimited'))).toBe(false);
    expect(hasRoomForThread(0, LIMITS('1536000000'))).toBe(false);
  });
});
