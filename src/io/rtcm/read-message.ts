import type { CorrectionMessage } from '../../records/corrections/correction-message.js';
import { createBitReader } from './bit-reader.js';
import type { BitReader } from './bit-reader.js';
import { isOlder, msmOf, readMsmHead, readOlderHead } from './observation-heads.js';
import { readAnnouncement, readBiases, readNames, readStation, readText } from './station-messages.js';

const NUMBER_BITS = 12;

/**
 * The content of a good frame as a message: what says where and when, and no observation. A content longer than its message
 * is taken, since receivers pad; one that is shorter than what it says of itself is `short`.
 * Reference: RTCM-10403 (layouts from memory, confirmed by decodes of others; see docs/methods/corrections.md).
 */
export function readMessage(content: Uint8Array): CorrectionMessage {
  const bits = createBitReader(content);
  const number = bits.unsigned(NUMBER_BITS);
  if (bits.isShort()) return { kind: 'short', number: null };
  const message = messageOf(number, bits);
  return message === null || bits.isShort() || isShorterThanItSays(message, content)
    ? { kind: 'short', number }
    : message;
}

function messageOf(number: number, bits: BitReader): CorrectionMessage | null {
  switch (number) {
    case 1005:
    case 1006:
      return readStation(number, bits);
    case 1007:
    case 1008:
    case 1033:
      return readNames(number, bits);
    case 1013:
      return readAnnouncement(bits);
    case 1029:
      return readText(bits);
    case 1230:
      return readBiases(bits);
    default: {
      if (isOlder(number)) return readOlderHead(number, bits);
      const msm = msmOf(number);
      return msm === null ? { kind: 'other', number } : readMsmHead(number, msm, bits);
    }
  }
}

function isShorterThanItSays(message: CorrectionMessage, content: Uint8Array): boolean {
  const needed = message.kind === 'observations' ? message.neededBytes : null;
  return needed !== null && content.length < needed;
}
