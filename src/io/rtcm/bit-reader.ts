/** Reads numbers of any count of bits, the largest first. Beyond the end everything is 0, which is remembered. */
export interface BitReader {
  /** A number without a sign, of at most 53 bits. */
  readonly unsigned: (bits: number) => number;
  /** A number with a sign, as two's complement. */
  readonly signed: (bits: number) => number;
  readonly isSet: () => boolean;
  readonly skip: (bits: number) => void;
  /** Whole bytes as they stand. */
  readonly bytes: (count: number) => Uint8Array;
  /** More was asked for than there is. */
  readonly isShort: () => boolean;
}

/** A reader of the bits of these bytes, from the first. */
export function createBitReader(content: Uint8Array): BitReader {
  let at = 0;
  const unsigned = (bits: number): number => {
    let value = 0;
    let wanted = bits;
    while (wanted > 0) {
      const left = 8 - (at & 7);
      const taken = Math.min(wanted, left);
      // Beyond the end; `isShort` says so.
      const byte = content[at >>> 3] ?? 0;
      value = value * 2 ** taken + ((byte >>> (left - taken)) & ((1 << taken) - 1));
      at += taken;
      wanted -= taken;
    }
    return value;
  };
  return {
    unsigned,
    signed(bits) {
      const value = unsigned(bits);
      return value >= 2 ** (bits - 1) ? value - 2 ** bits : value;
    },
    isSet: () => unsigned(1) === 1,
    skip(bits) {
      at += bits;
    },
    bytes: (count) => Uint8Array.from({ length: count }, () => unsigned(8)),
    isShort: () => at > content.length * 8,
  };
}
