/** The encodings that a guess may name. */
export type GuessedEncoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

/** How bytes are guessed to be encoded, and from what; null: they are no text. */
export interface EncodingGuess {
  readonly encoding: GuessedEncoding;
  /** Empty where it is what is read without being told. */
  readonly why: string;
}

/** Bytes that are looked at. */
const LOOKED_AT = 65_536;
/** Share of zero bytes on one side of every two from which on text is UTF-16: Latin letters have one each. */
const UTF16_SHARE = 0.6;

/**
 * Guesses the encoding of a file's first bytes.
 * Given: bytes from the file's start, cut at a line's end or the file's. Returned: the guess; null for bytes that are no text.
 */
export function guessEncoding(bytes: Uint8Array): EncodingGuess | null {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return { encoding: 'utf-8', why: '' };
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { encoding: 'utf-16le', why: '' };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { encoding: 'utf-16be', why: '' };
  const head = bytes.subarray(0, LOOKED_AT);
  let [even, odd, control, high] = [0, 0, 0, 0];
  head.forEach((byte, index) => {
    if (byte === 0 && index % 2 === 0) even += 1;
    else if (byte === 0) odd += 1;
    else if (byte < 0x20 && byte !== 0x09 && byte !== 0x0a && byte !== 0x0d) control += 1;
    else if (byte > 0x7f) high += 1;
  });
  const pairs = head.length / 2;
  if (odd > UTF16_SHARE * pairs && even === 0) return { encoding: 'utf-16le', why: 'every second byte is zero' };
  if (even > UTF16_SHARE * pairs && odd === 0) return { encoding: 'utf-16be', why: 'every first byte of two is zero' };
  if (even + odd + control > 0) return null;
  if (high === 0 || isUtf8(bytes)) return { encoding: 'utf-8', why: '' };
  return {
    encoding: 'windows-1252',
    why: `${String(high)} bytes are not UTF-8; names with accents show whether this is right`,
  };
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}
