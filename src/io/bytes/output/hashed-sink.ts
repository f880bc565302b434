import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import { basename } from 'node:path';
import type { FileDigest } from '../../../records/runs/provenance.js';
import type { Sink } from './sink.js';

/** A sink that takes the digest of what goes through it. */
export interface HashedSink {
  readonly sink: Sink;
  /** Name without folder, size and SHA-256 of all that was written; what is written anew is counted anew. */
  readonly digest: () => FileDigest;
}

/** Wraps a sink. */
export function hashedSink(inner: Sink): HashedSink {
  let hash = createHash('sha256');
  let bytes = 0;
  const add = (content: string | Uint8Array): void => {
    hash.update(content);
    bytes += typeof content === 'string' ? Buffer.byteLength(content) : content.length;
  };
  const sink: Sink = {
    ...inner,
    write(content) {
      add(content);
      return inner.write(content);
    },
    rewrite: (change) =>
      inner.rewrite(async function* (chunks) {
        hash = createHash('sha256');
        bytes = 0;
        for await (const piece of change(chunks)) {
          add(piece);
          yield piece;
        }
      }),
  };
  return { sink, digest: () => ({ name: basename(inner.key), bytes, sha256: hash.copy().digest('hex') }) };
}
