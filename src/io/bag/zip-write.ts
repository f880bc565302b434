import { Buffer } from 'node:buffer';
import { crc32 } from 'node:zlib';
import { pushAll } from '../../core/numeric/push-all.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { BagFile } from './bag.js';

/** Beyond these an archive needs the 64-bit form, which is not written. */
const MOST_BYTES = 0xffff_ffff;
const MOST_FILES = 0xfffe;

const LOCAL_HEADER = 0x0403_4b50;
const CENTRAL_HEADER = 0x0201_4b50;
const END_OF_CENTRAL = 0x0605_4b50;
/** 1 January 1980, midnight: the first time the form can say. */
const FIRST_DATE = 0x0021;
const FIRST_TIME = 0;
/** Names are UTF-8. */
const UTF8_NAMES = 0x0800;
const STORED = 0;
/** Version 1.0 is enough for files that are stored. */
const VERSION_NEEDED = 10;
/** Made on Unix, by version 3.0 of the form, so that permissions are read: rw-r--r-- of a regular file. */
const MADE_BY = (3 << 8) | 30;
const REGULAR_FILE = (0o100_644 << 16) >>> 0;

/**
 * A ZIP archive, stored and with one fixed date, so that the same files give the same bytes whatever compressor the engine has.
 *
 * Given: files in the order they are to stand in. Returned: the archive in pieces. Problem: file-too-large beyond 4 GiB or 65,534
 * files.
 *
 * Reference: PKWARE-APPNOTE sections 4.3.7 (local header), 4.3.12 (central directory), 4.3.16 (its end), 4.4.4 (flags).
 */
export function zipOf(files: readonly BagFile[]): Outcome<readonly Uint8Array[]> {
  const parts: Uint8Array[] = [];
  const central: Uint8Array[] = [];
  let offset = 0;
  for (const { path, bytes } of files) {
    const name = Buffer.from(path, 'utf8');
    const common = Buffer.alloc(26);
    common.writeUInt16LE(VERSION_NEEDED, 0);
    common.writeUInt16LE(UTF8_NAMES, 2);
    common.writeUInt16LE(STORED, 4);
    common.writeUInt16LE(FIRST_TIME, 6);
    common.writeUInt16LE(FIRST_DATE, 8);
    if (offset + bytes.length + name.length > MOST_BYTES) return tooLarge();
    common.writeUInt32LE(crc32(bytes), 10);
    common.writeUInt32LE(bytes.length, 14);
    common.writeUInt32LE(bytes.length, 18);
    common.writeUInt16LE(name.length, 22);
    const local = [signature(LOCAL_HEADER), common, name, bytes];
    const directory = Buffer.alloc(14);
    directory.writeUInt32LE(REGULAR_FILE, 6);
    directory.writeUInt32LE(offset, 10);
    central.push(signature(CENTRAL_HEADER), two(MADE_BY), common, directory, name);
    pushAll(parts, local);
    offset += lengthOf(local);
  }
  const size = lengthOf(central);
  if (files.length > MOST_FILES || offset + size > MOST_BYTES) return tooLarge();
  const end = Buffer.alloc(18);
  end.writeUInt16LE(files.length, 4);
  end.writeUInt16LE(files.length, 6);
  end.writeUInt32LE(size, 8);
  end.writeUInt32LE(offset, 12);
  return success([...parts, ...central, signature(END_OF_CENTRAL), end]);
}

function signature(value: number): Uint8Array {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32LE(value, 0);
  return bytes;
}

function two(value: number): Uint8Array {
  const bytes = Buffer.alloc(2);
  bytes.writeUInt16LE(value, 0);
  return bytes;
}

function lengthOf(pieces: readonly Uint8Array[]): number {
  return pieces.reduce((sum, piece) => sum + piece.length, 0);
}

function tooLarge(): Outcome<readonly Uint8Array[]> {
  return failure(
    errorProblem('file-too-large', {
      message: 'the delivery is too large for a ZIP file: 4 GiB and 65,534 files at most',
      hint: 'deliver it as a folder',
    }),
  );
}
