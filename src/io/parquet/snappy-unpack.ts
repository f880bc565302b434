/**
 * Unpacks what was packed with Snappy. Given: the packed bytes; how many they unpack to. Whatever the bytes are, no more steps are taken
 * than there are bytes in and out. Throws an Error that says what is wrong with them.
 * Reference: the format description of Snappy, google/snappy, format_description.txt.
 */
export function snappyUnpacked(input: Uint8Array, bytes: number): Uint8Array {
  const [said, start] = lengthOf(input);
  if (said !== bytes) throw new Error(`Snappy of ${String(said)} bytes in a page of ${String(bytes)}`);
  const output = new Uint8Array(bytes);
  let from = start;
  let to = 0;
  while (from < input.length) {
    const tag = input[from] as number;
    from += 1;
    const kind = tag & 3;
    const isLiteral = kind === 0;
    // A literal of more than 60 bytes has its length in up to four more, a copy its offset in one, two or four.
    const more = isLiteral ? Math.max(0, (tag >>> 2) - 59) : kind === 3 ? 4 : kind;
    if (from + more > input.length) throw new Error('Snappy that ends within an element');
    const number = littleEndian(input, from, more);
    from += more;
    const length = isLiteral
      ? (more > 0 ? number : tag >>> 2) + 1
      : kind === 1
        ? ((tag >>> 2) & 7) + 4
        : (tag >>> 2) + 1;
    if (to + length > bytes) throw new Error('Snappy of more bytes than it says');
    if (isLiteral) {
      if (from + length > input.length) throw new Error('Snappy that ends within an element');
      for (let index = 0; index < length; index += 1) output[to + index] = input[from + index] as number;
      from += length;
    } else {
      const back = kind === 1 ? number + ((tag >>> 5) << 8) : number;
      if (back === 0 || back > to) throw new Error('Snappy that copies what is not there');
      // Byte by byte: what is copied may be what the copy has just made.
      for (let index = 0; index < length; index += 1) output[to + index] = output[to - back + index] as number;
    }
    to += length;
  }
  if (to !== bytes) throw new Error('Snappy of fewer bytes than it says');
  return output;
}

/** How many bytes it says it unpacks to, and where its elements begin. */
function lengthOf(input: Uint8Array): readonly [number, number] {
  let length = 0;
  for (let at = 0; at < 5; at += 1) {
    const byte = input[at];
    if (byte === undefined) break;
    length += (byte & 0x7f) * 2 ** (7 * at);
    if (byte < 0x80) return [length, at + 1];
  }
  throw new Error('Snappy without its length');
}

function littleEndian(input: Uint8Array, from: number, count: number): number {
  let value = 0;
  for (let index = 0; index < count; index += 1) value += (input[from + index] as number) * 2 ** (8 * index);
  return value;
}
