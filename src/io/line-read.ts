import { Buffer } from 'node:buffer';
import { failure, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import { errorProblem } from '../records/problem.js';

/** Lines that follow each other, without their line ends. */
export interface LineBlock {
  readonly lines: readonly string[];
  /** Number of the first of them, from 1. */
  readonly firstLine: number;
}

const MAX_LINE_BYTES = 1 << 20;

/** A stream of UTF-8 bytes as lines (LF or CR LF). Problems: those of the stream; file-too-large for an endless line. */
export async function* readLines(chunks: AsyncIterable<Outcome<Buffer>>, source: string): AsyncGenerator<Outcome<LineBlock>> {
  let rest: Buffer = Buffer.alloc(0);
  let firstLine = 1;
  for await (const chunk of chunks) {
    if (!chunk.ok) {
      yield chunk;
      return;
    }
    const bytes = rest.length === 0 ? chunk.value : Buffer.concat([rest, chunk.value]);
    const end = bytes.lastIndexOf(0x0a) + 1;
    rest = bytes.subarray(end);
    if (rest.length > MAX_LINE_BYTES) {
      yield failure(errorProblem('file-too-large', { message: 'a line is longer than 1 MiB', where: { source } }));
      return;
    }
    if (end === 0) continue;
    const lines = bytes.toString('utf8', 0, end - 1).split('\n');
    yield success({ lines: lines.map(withoutCr), firstLine });
    firstLine += lines.length;
  }
  if (rest.length > 0) yield success({ lines: [withoutCr(rest.toString('utf8'))], firstLine });
}

function withoutCr(line: string): string {
  return line.endsWith('\r') ? line.slice(0, -1) : line;
}
