import type { CorrectionMessage } from '../../records/corrections/correction-message.js';
import type { SentMessages } from '../../records/corrections/correction-audit.js';
import { createRegularity } from './time/regularity.js';
import type { RegularityCount } from './time/regularity.js';

/** Bytes of a frame about its content. */
export const ABOUT_CONTENT = 6;

/** Counts messages by station and number. */
export interface MessageTally {
  readonly add: (message: CountedMessage, atMs: number | null, contentBytes: number) => void;
  /** By station, then by number; those without a station last. */
  readonly result: () => readonly SentMessages[];
}

type CountedMessage = Exclude<CorrectionMessage, { kind: 'short' }>;

interface Count {
  readonly stationId: number | null;
  readonly number: number;
  readonly times: RegularityCount;
  messages: number;
  bytes: number;
  /** Null: what the message needs is not known. */
  padding: number | null;
}

export function createMessageTally(): MessageTally {
  const counts = new Map<string, Count>();
  const announced = new Map<string, number>();
  return {
    add(message, atMs, contentBytes) {
      const stationId = message.kind === 'other' ? null : message.stationId;
      const needed = message.kind === 'observations' ? message.neededBytes : null;
      const key = keyOf(stationId, message.number);
      const own = counts.get(key) ?? {
        ...{ stationId, number: message.number, times: createRegularity() },
        ...{ messages: 0, bytes: 0, padding: needed === null ? null : 0 },
      };
      counts.set(key, own);
      own.messages += 1;
      own.bytes += contentBytes + ABOUT_CONTENT;
      if (own.padding !== null && needed !== null) own.padding += contentBytes - needed;
      if (atMs !== null) own.times.add(atMs);
      if (message.kind !== 'announcement') return;
      for (const { number, intervalS } of message.announced) announced.set(keyOf(stationId, number), intervalS);
    },
    result: () =>
      [...counts]
        .map(([key, { stationId, number, messages, bytes, padding, times }]): SentMessages => ({
          ...{ stationId, number, messages, bytes, paddingBytes: padding },
          announcedIntervalS: announced.get(key) ?? null,
          ...times.result(),
        }))
        .sort((a, b) => rankOf(a) - rankOf(b) || a.number - b.number),
  };
}

function rankOf({ stationId }: SentMessages): number {
  return stationId ?? Infinity;
}

function keyOf(stationId: number | null, number: number): string {
  return `${stationId === null ? '' : String(stationId)} ${String(number)}`;
}
