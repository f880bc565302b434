import { getHeapStatistics } from 'node:v8';
import { errorProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';

/**
 * Part of the engine's bound for what lives long at which a run ends itself. Closing a long occupation takes about half
 * as much again as holding it, and beyond the bound the engine would end the run without a word.
 */
const FULL = 0.6;
/** Looks in a row above it, as a look may come just before rubbish is collected. */
const LOOKS = 8;
/** The engine's limit counts its nursery, which is not for what lives long. */
const NURSERY_BYTES = 48 << 20;

/** Says whether memory is about to run out, at each look: file-too-large, or null. */
export type MemoryGuard = () => Problem | null;

/** A guard for one run. */
export function createMemoryGuard(): MemoryGuard {
  let above = 0;
  return () => {
    const { used_heap_size: used, heap_size_limit: limit } = getHeapStatistics();
    above = used > FULL * Math.max(limit - NURSERY_BYTES, limit / 2) ? above + 1 : 0;
    if (above < LOOKS) return null;
    const message = `the run is about to need more than the ${Math.round(limit / 1048576)} MiB of memory that Node.js may use`;
    return errorProblem('file-too-large', { message, hint: 'split the input by session, or raise the bound with NODE_OPTIONS=--max-old-space-size=MIB' });
  };
}
