import { Buffer } from 'node:buffer';
import type { Outcome } from '../../src/records/outcome.js';
import type { Source } from '../../src/io/bytes/source.js';
import { openSource } from '../../src/io/bytes/source.js';
import type { TextEncoding } from '../../src/io/text/text-encoding.js';

/** Bytes as a stream of chunks of the given size. */
export async function* chunksOf(bytes: Uint8Array, size: number): AsyncGenerator<Uint8Array> {
  await Promise.resolve();
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

/** Standard input that holds a text or bytes. */
export async function stdinSource(
  content: string | Uint8Array,
  chunkBytes: number = 1 << 20,
  encoding: TextEncoding | null = null,
): Promise<Source> {
  const bytes = typeof content === 'string' ? Buffer.from(content, 'utf8') : content;
  return value(await openSource('-', { cwd: '.', stdin: chunksOf(bytes, chunkBytes), encoding }));
}

/** The value of a success; a failure is thrown with its problems in the message. */
export function value<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Error(JSON.stringify(outcome.problems));
}

/** Codes of the problems of an outcome. */
export function codes(outcome: Outcome<unknown>): string[] {
  return outcome.problems.map((problem) => problem.code);
}

/** Everything a generator yields. */
export async function all<T>(items: AsyncIterable<T>): Promise<T[]> {
  const list: T[] = [];
  for await (const item of items) list.push(item);
  return list;
}
