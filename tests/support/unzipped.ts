/** A file of an archive, as a reader that shares nothing with our writer finds it. */
export interface UnzippedFile {
  readonly path: string;
  readonly text: string;
  /** Date and time fields, as they stand. */
  readonly stamp: number;
}

/** CRC-32 of ISO 3309 bit by bit, polynomial EDB88320 reflected: of "123456789" it is CBF43926 (published check value). */
export function crcOf(bytes: Uint8Array): number {
  let crc = ~0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return ~crc >>> 0;
}

/**
 * Reads an archive of stored files the way the form says: from its end, by the central directory, each local header held
 * against it. Throws where anything disagrees. Source: PKWARE APPNOTE sections 4.3.7, 4.3.12, 4.3.16.
 */
export function unzipped(archive: Buffer): readonly UnzippedFile[] {
  const end = archive.length - 22;
  if (archive.readUInt32LE(end) !== 0x06054b50) throw new Error('no end of central directory');
  const count = archive.readUInt16LE(end + 10);
  let at = archive.readUInt32LE(end + 16);
  if (at + archive.readUInt32LE(end + 12) !== end)
    throw new Error('the central directory does not end where it should');
  const files: UnzippedFile[] = [];
  for (let file = 0; file < count; file += 1) {
    if (archive.readUInt32LE(at) !== 0x02014b50) throw new Error('no central header');
    const [method, crc, size] = [at + 10, at + 16, at + 24].map((place, i) =>
      i === 0 ? archive.readUInt16LE(place) : archive.readUInt32LE(place),
    ) as [number, number, number];
    const nameLength = archive.readUInt16LE(at + 28);
    const path = archive.toString('utf8', at + 46, at + 46 + nameLength);
    const local = archive.readUInt32LE(at + 42);
    if (archive.readUInt32LE(local) !== 0x04034b50) throw new Error(`${path}: no local header`);
    if (archive.compare(archive, at + 6, at + 32, local + 4, local + 30) !== 0)
      throw new Error(`${path}: headers differ`);
    if (method !== 0 || archive.readUInt32LE(at + 20) !== size) throw new Error(`${path}: is not stored`);
    const start = local + 30 + nameLength + archive.readUInt16LE(local + 28);
    const bytes = archive.subarray(start, start + size);
    if (crcOf(bytes) !== crc) throw new Error(`${path}: the digest does not fit`);
    files.push({ path, text: bytes.toString('utf8'), stamp: archive.readUInt32LE(at + 12) });
    at += 46 + nameLength + archive.readUInt16LE(at + 30) + archive.readUInt16LE(at + 32);
  }
  if (at !== end) throw new Error('the central directory is longer than its files');
  return files;
}
