import type { Buffer } from 'node:buffer';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Source } from '../bytes/source.js';

/** Bytes that are read together: so few that what is made of their sentences does not outlive the nursery. */
const TOGETHER = 8192;

/** The bytes of a log in short pieces, wherever its sentences end. A failure is the last item. */
export async function* nmeaPieces(source: Source): AsyncGenerator<Outcome<Buffer>> {
  for await (const chunk of source.chunks()) {
    if (!chunk.ok) {
      yield chunk;
      return;
    }
    for (let from = 0; from < chunk.value.length; from += TOGETHER)
      yield success(chunk.value.subarray(from, from + TOGETHER));
  }
}
