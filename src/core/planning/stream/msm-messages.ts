import { msmBits } from '../../corrections/msm-bits.js';
import type { MsmDigit } from '../../corrections/msm-bits.js';

/** Multiple signal message kinds of RTCM 3: 4 compact, 5 with Doppler, 6 and 7 at full resolution. */
export type MsmKind = 'msm4' | 'msm5' | 'msm6' | 'msm7';

/** One observation message. */
export interface MsmMessage {
  readonly satellites: number;
  /** Satellite and signal pairs sent: at most 64. */
  readonly cells: number;
  readonly contentBits: number;
  readonly contentBytes: number;
  /** With 3 bytes of header and 3 of check. */
  readonly frameBytes: number;
}

const MOST_CELLS = 64;
const FRAME_OVERHEAD_BYTES = 6;

const DIGITS: Readonly<Record<MsmKind, MsmDigit>> = { msm4: 4, msm5: 5, msm6: 6, msm7: 7 };

/**
 * The messages that carry one epoch of one constellation, every signal present on every satellite.
 *
 * Given: kind; whole numbers of satellites and of signals a satellite. Returned: as few messages as
 * the limit of 64 cells allows, satellites shared out as evenly as possible, more in the first
 * ones; none for no satellites; null when a single satellite has more than 64 cells.
 * Bits: 169 + satellites · signals (cell mask) + satellites · b_satellite + cells · b_cell.
 * Reference: RTCM-10403 (layout from memory); see docs/methods/correction-stream.md.
 */
export function msmMessages(kind: MsmKind, satellites: number, signals: number): readonly MsmMessage[] | null {
  if (satellites === 0) return [];
  const most = Math.floor(MOST_CELLS / signals);
  if (most < 1) return null;
  const count = Math.ceil(satellites / most);
  const messages: MsmMessage[] = [];
  for (let i = 0; i < count; i += 1) {
    const share = Math.floor(satellites / count) + (i < satellites % count ? 1 : 0);
    const cells = share * signals;
    const contentBits = msmBits(DIGITS[kind], share, signals, cells);
    const contentBytes = Math.ceil(contentBits / 8);
    messages.push({
      satellites: share,
      cells,
      contentBits,
      contentBytes,
      frameBytes: contentBytes + FRAME_OVERHEAD_BYTES,
    });
  }
  return messages;
}
