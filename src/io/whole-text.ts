import { Buffer } from 'node:buffer';
import { failure, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import { errorProblem } from '../records/problem.js';
import type { Source } from './source.js';

/** Largest document that is read in one piece. */
export const MAX_DOCUMENT_BYTES: number = 500 * 1024 * 1024;

/** The whole of an input as text. Problems: those of the source; file-too-large. */
export async function wholeText(source: Source, maxBytes: number = MAX_DOCUMENT_BYTES): Promise<Outcome<string>> {
  const parts: Buffer[] = [];
  let total = 0;
  for await (const chunk of source.chunks()) {
    if (!chunk.ok) return chunk;
    total += chunk.value.length;
    if (total > maxBytes) {
      const message = `is larger than ${String(Math.round(maxBytes / 1048576))} MiB`;
      return failure(errorProblem('file-too-large', { message, where: { source: source.name } }));
    }
    parts.push(chunk.value);
  }
  return success(Buffer.concat(parts).toString('utf8'));
}
