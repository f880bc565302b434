/** Encodings that can be named with `--encoding`, in the order they are offered to people. */
export const TEXT_ENCODINGS = ['utf-8', 'utf-16le', 'utf-16be', 'windows-1252', 'iso-8859-1'] as const;

/** One of them. UTF-8 is what a file without a byte order mark is taken for. */
export type TextEncoding = (typeof TEXT_ENCODINGS)[number];

/** A byte order mark found at the start of a file. */
export interface ByteOrderMark {
  readonly encoding: TextEncoding;
  readonly length: number;
}

/**
 * The byte order mark at the start of `bytes`, or null.
 * Given: the first three bytes of a file (fewer only at its end).
 * Source: RFC 3629 section 6; RFC 2781 section 3.2.
 */
export function byteOrderMark(bytes: Uint8Array): ByteOrderMark | null {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return { encoding: 'utf-8', length: 3 };
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { encoding: 'utf-16le', length: 2 };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { encoding: 'utf-16be', length: 2 };
  return null;
}
