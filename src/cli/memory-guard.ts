import { getHeapSpaceStatistics } from 'node:v8';
import { memoryRoomBytes } from '../io/memory-room.js';
import { errorProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';

/**
 * Part of the engine's room for what lives long at which a run ends itself. Closing a long occupation takes about half
 * as much again as holding it, and beyond its room the engine would end the run without a word.
 */
const FULL = 0.6;
/** Looks in a row above it, as a look may come just before rubbish is collected. */
const LOOKS = 3;

/** Says whether memory is about to run out, at each look: file-too-large, or null. */
export type MemoryGuard = () => Problem | null;

/** A guard for one run. */
export function createMemoryGuard(): MemoryGuard {
  const limit = memoryRoomBytes();
  const atStart = longLivedBytes();
  const full = atStart + FULL * (limit - atStart);
  let above = 0;
  return () => {
    above = longLivedBytes() > full ? above + 1 : 0;
    if (above < LOOKS) return null;
    const message = `the run is about to need more than the ${Math.round(limit / 1_048_576)} MiB of memory that Node.js may use`;
    return errorProblem('file-too-large', { message, hint: 'split the input by session, or raise the bound with NODE_OPTIONS=--max-old-space-size=MIB' });
  };
}

/** Bytes in use outside the nursery. */
function longLivedBytes(): number {
  let bytes = 0;
  for (const { space_name: name, space_used_size: used } of getHeapSpaceStatistics()) if (!name.startsWith('new')) bytes += used;
  return bytes;
}
