import { availableParallelism } from 'node:os';
import { hasRoomForThread } from '../../../io/bytes/thread-room.js';
import { PART_BYTES } from '../../../io/csv/csv-blocks.js';
import { WAY } from '../../../io/host/way.js';
import { numberOption } from '../command-spec.js';
import type { Invocation } from '../command-spec.js';

const MOST = 64;
const FEW = 4;
/** A second thread takes time off a file this large (measured; it takes about as long with one as with two at 18 MB). */
const LARGE_BYTES = 32 << 20;

/**
 * Threads for an input of so many bytes, this one among them. As --workers says; else two where the input is large enough for the second to
 * be worth its start and there is a processor and memory for it. More cost memory, some 30 MB each, and are left to who asks for them.
 */
export function workerCount(invocation: Invocation, size: number): number {
  const asked = WAY === 'general' ? 1 : numberOption(invocation, 'workers');
  // No more threads than there are parts to hand out; a few are always allowed, so that a small file can prove them.
  if (asked !== null) return Math.min(asked, MOST, Math.max(FEW, Math.ceil(size / PART_BYTES)));
  return size >= LARGE_BYTES && availableParallelism() > 1 && hasRoomForThread() ? 2 : 1;
}
