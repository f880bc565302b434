/** Bytes compressed with the LZW of TIFF: codes from the most significant bit on, widths changing one code early. */
export function lzwBytes(data: Uint8Array): Buffer {
  const out: number[] = [];
  let held = 0;
  let heldBits = 0;
  let width = 9;
  const emit = (code: number): void => {
    held = (held << width) | code;
    heldBits += width;
    while (heldBits >= 8) {
      heldBits -= 8;
      out.push((held >> heldBits) & 255);
    }
    held &= (1 << heldBits) - 1;
  };
  let table = new Map<string, number>();
  let next = 258;
  const clear = (): void => {
    emit(256);
    table = new Map();
    next = 258;
    width = 9;
  };
  const codeOf = (text: string): number => (text.length === 1 ? text.charCodeAt(0) : table.get(text)!);
  clear();
  let text = '';
  for (const byte of data) {
    const longer = text + String.fromCharCode(byte);
    if (longer.length === 1 || table.has(longer)) {
      text = longer;
      continue;
    }
    emit(codeOf(text));
    table.set(longer, next);
    next += 1;
    // One entry before the codes need it: the decoder runs one entry behind.
    if (next === 512 || next === 1024 || next === 2048) width += 1;
    if (next === 4094) clear();
    text = String.fromCharCode(byte);
  }
  if (text !== '') emit(codeOf(text));
  emit(257);
  if (heldBits > 0) out.push((held << (8 - heldBits)) & 255);
  return Buffer.from(out);
}
