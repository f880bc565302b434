import { versions } from 'node:process';
import { getHeapStatistics } from 'node:v8';

/** The engine's limit counts its nursery, which is not for what lives long: 48 MiB, from V8 13 (Node 24) on 192 MiB; measured. */
const NURSERY_BYTES = (/^(?:\d|1[0-2])\./u.test(versions.v8) ? 48 : 192) * 1_048_576;

/** Bytes that Node.js may use for what lives long, as --max-old-space-size sets it. */
export function memoryRoomBytes(): number {
  return Math.max(0, getHeapStatistics().heap_size_limit - NURSERY_BYTES);
}
