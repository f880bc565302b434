import { Buffer } from 'node:buffer';
import type { TextEncoding } from './text-encoding.js';
import { createUtf8Check } from './utf8-check.js';

/** What a decoder says of a chunk: UTF-8 bytes, or the place of the first bad byte counted from the start of the text. */
export type Decoded =
  { readonly ok: true; readonly bytes: Buffer } | { readonly ok: false; readonly badOffset: number };

/** Turns chunks of one encoding into UTF-8 bytes. Chunks may end inside a character. */
export interface ChunkDecoder {
  readonly push: (chunk: Buffer) => Decoded;
  /** To be called once, after the last chunk: reports a character cut off by the end of the file. */
  readonly end: () => Decoded;
}

const EMPTY = Buffer.alloc(0);

/** Passes bytes on as they are. */
export const UNCHECKED: ChunkDecoder = {
  push: (bytes) => ({ ok: true, bytes }),
  end: () => ({ ok: true, bytes: EMPTY }),
};

/** Windows-1252 for bytes 0x80 to 0x9F; 0 where the code page has no character. From memory of the code page. */
const WINDOWS_1252: readonly number[] = [
  0x20ac, 0, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0, 0x017d, 0, 0,
  0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a, 0x0153, 0, 0x017e, 0x0178,
];

/**
 * A decoder from `encoding` to UTF-8 bytes, strict: a byte that does not belong is reported, never replaced.
 * UTF-8 is checked and passed on without a copy. One-byte encodings have their own table because the engine's
 * decoder treats `iso-8859-1` as `windows-1252`, and both leniently.
 */
export function createTextDecoder(encoding: TextEncoding): ChunkDecoder {
  switch (encoding) {
    case 'utf-8':
      return utf8Decoder();
    case 'utf-16le':
    case 'utf-16be':
      return utf16Decoder(encoding === 'utf-16be');
    case 'windows-1252':
      return oneByteDecoder(true);
    case 'iso-8859-1':
      return oneByteDecoder(false);
  }
}

function utf8Decoder(): ChunkDecoder {
  const check = createUtf8Check();
  return {
    push(chunk) {
      const badOffset = check.push(chunk);
      return badOffset < 0 ? { ok: true, bytes: chunk } : { ok: false, badOffset };
    },
    end() {
      const badOffset = check.end();
      return badOffset < 0 ? { ok: true, bytes: EMPTY } : { ok: false, badOffset };
    },
  };
}

function oneByteDecoder(isWindows: boolean): ChunkDecoder {
  let offset = 0;
  return {
    push(chunk) {
      let text = chunk.toString('latin1');
      if (isWindows) {
        let badOffset = -1;
        text = text.replace(/[\u0080-\u009f]/gu, (character, at: number) => {
          // 0 marks the bytes that the table has no character for.
          const code = WINDOWS_1252[character.charCodeAt(0) - 0x80] ?? 0;
          if (code === 0 && badOffset < 0) badOffset = offset + at;
          return String.fromCharCode(code);
        });
        if (badOffset >= 0) return { ok: false, badOffset };
      }
      offset += chunk.length;
      return { ok: true, bytes: Buffer.from(text, 'utf8') };
    },
    end: () => ({ ok: true, bytes: EMPTY }),
  };
}

function utf16Decoder(isBigEndian: boolean): ChunkDecoder {
  let pending = EMPTY;
  let offset = 0;
  return {
    push(chunk) {
      const bytes = pending.length === 0 ? Buffer.from(chunk) : Buffer.concat([pending, chunk]);
      let usable = bytes.length - (bytes.length % 2);
      if (isBigEndian) swapPairs(bytes, usable);
      if (usable >= 2 && isHighSurrogate(bytes.readUInt16LE(usable - 2))) usable -= 2;
      const badOffset = loneSurrogate(bytes, usable);
      if (badOffset >= 0) return { ok: false, badOffset: offset + badOffset };
      pending = Buffer.from(bytes.subarray(usable));
      // What is kept goes back to the file's own byte order, so that the next chunk can follow it.
      if (isBigEndian) swapPairs(pending, pending.length - (pending.length % 2));
      offset += usable;
      return { ok: true, bytes: Buffer.from(bytes.toString('utf16le', 0, usable), 'utf8') };
    },
    end: () => (pending.length === 0 ? { ok: true, bytes: EMPTY } : { ok: false, badOffset: offset }),
  };
}

function swapPairs(bytes: Buffer, length: number): void {
  bytes.subarray(0, length).swap16();
}

function isHighSurrogate(unit: number): boolean {
  return unit >= 0xd800 && unit <= 0xdbff;
}

function loneSurrogate(bytes: Buffer, length: number): number {
  for (let at = 0; at < length; at += 2) {
    const unit = bytes.readUInt16LE(at);
    if (unit < 0xd800 || unit > 0xdfff) continue;
    const next = at + 2 < length ? bytes.readUInt16LE(at + 2) : 0;
    if (!isHighSurrogate(unit) || next < 0xdc00 || next > 0xdfff) return at;
    at += 2;
  }
  return -1;
}
