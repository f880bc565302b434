import { readFileSync } from 'node:fs';
import process from 'node:process';

/** A second thread takes some 30 MB, and a process that has no more ends without a word: it is not started near a bound. */
const LEAST_BYTES = 512 * 1_048_576;

/**
 * Whether memory is free enough for a thread that nobody asked for.
 *
 * Given: bytes that the system lets the process have, 0 or undefined where it sets no bound (`process.constrainedMemory`);
 * the text of /proc/self/limits, empty where there is none. Returned: false where less than 512 MiB are allowed, or the
 * address space is bounded: the engine reserves far more of it than it uses, and ends the process where it cannot.
 */
export function hasRoomForThread(
  constrainedBytes: number | undefined = process.constrainedMemory(),
  limits: string = processLimits(),
): boolean {
  if (constrainedBytes !== undefined && constrainedBytes > 0 && constrainedBytes < LEAST_BYTES) return false;
  const addressSpace = /^Max address space +(\S+)/mu.exec(limits)?.[1] ?? 'unlimited';
  return addressSpace === 'unlimited';
}

function processLimits(): string {
  try {
    return readFileSync('/proc/self/limits', 'utf8');
  } catch {
    return '';
  }
}
