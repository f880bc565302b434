import { getHeapSpaceStatistics, getHeapStatistics } from 'node:v8';
import { memoryRoomBytes } from '../../../io/bytes/memory-room.js';
import { boundNursery } from '../../../io/host/nursery.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';

/**
 * Part of the engine's room for what lives long at which a run ends itself. Closing a long occupation takes about half
 * as much again as holding it, and beyond its room the engine would end the run without a word.
 */
const FULL = 0.6;
/**
 * The same for columns of numbers, which the engine keeps outside that room and without a bound of its own: an occupation that
 * is packed takes as much again, and half as much, when it is closed. Never less than the rubbish of blocks read may come to.
 */
const FULL_OUTSIDE = 0.4;
const LEAST_OUTSIDE_BYTES = 256 * 1_048_576;
/** Looks in a row above it, as a look may come just before rubbish is collected. */
const LOOKS = 3;

/** Says whether memory is about to run out, at each look: file-too-large, or null. */
export type MemoryGuard = () => Problem | null;

/** A guard for one run. */
export function createMemoryGuard(): MemoryGuard {
  const limit = memoryRoomBytes();
  const atStart = longLivedBytes();
  const full = atStart + FULL * (limit - atStart);
  const fullOutside = Math.max(FULL_OUTSIDE * limit, LEAST_OUTSIDE_BYTES);
  let above = 0;
  let outsideAtFirst: number | null = null;
  return () => {
    boundNursery();
    const { external_memory: outside, used_heap_size: used } = getHeapStatistics();
    // The grids are read by then, and have bounds of their own.
    outsideAtFirst ??= outside;
    // What lives long is less than all that is used, which is asked for at a tenth of the time.
    const isFull = used > full && longLivedBytes() > full;
    above = isFull || outside - outsideAtFirst > fullOutside ? above + 1 : 0;
    if (above < LOOKS) return null;
    const message = `the run is about to need more than the ${Math.round(limit / 1_048_576)} MiB of memory that Node.js may use`;
    return errorProblem('file-too-large', {
      message,
      hint: 'split the input by session, or raise the bound with NODE_OPTIONS=--max-old-space-size=MIB',
    });
  };
}

/** Bytes in use outside the nursery. */
function longLivedBytes(): number {
  let bytes = 0;
  for (const { space_name: name, space_used_size: used } of getHeapSpaceStatistics())
    if (!name.startsWith('new')) bytes += used;
  return bytes;
}
