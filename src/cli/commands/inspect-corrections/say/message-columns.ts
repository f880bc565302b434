import { utcOfStream } from '../../../../core/corrections/stream-time-text.js';
import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import type { SentMessages, StreamCalendar } from '../../../../records/corrections/correction-audit.js';

/** A row of the table of messages, and what its times and shares are of. */
export interface MessageRow {
  readonly messages: SentMessages;
  readonly calendar: StreamCalendar;
  /** Bytes of all frames. */
  readonly allBytes: number;
}

const utc = (calendar: StreamCalendar, ms: number | null): number | null =>
  ms === null ? null : utcOfStream(calendar, ms);
const seconds = (ms: number | null): number | null => (ms === null ? null : ms / 1000);

/** Columns of the table of messages, in order. */
export const MESSAGE_COLUMNS: readonly Column<never, MessageRow>[] = [
  column({
    name: 'station_id',
    kind: 'whole',
    get: ({ messages }) => messages.stationId,
    describe: 'number of the station; empty where the message names none',
  }),
  column({ name: 'number', kind: 'whole', get: ({ messages }) => messages.number, describe: 'number of the message' }),
  column({ name: 'count', kind: 'whole', get: ({ messages }) => messages.messages, describe: 'messages' }),
  column({ name: 'bytes', kind: 'whole', get: ({ messages }) => messages.bytes, describe: 'bytes of their frames' }),
  column({
    name: 'share',
    kind: 'number',
    decimals: 4,
    get: ({ messages, allBytes }) => (allBytes === 0 ? null : messages.bytes / allBytes),
    describe: 'of the bytes of all frames, 0 to 1',
  }),
  column({
    name: 'padding_bytes',
    kind: 'whole',
    get: ({ messages }) => messages.paddingBytes,
    describe: 'bytes that nothing needs; empty where that is not known',
  }),
  column({
    name: 'mean_interval_s',
    kind: 'number',
    unit: 's',
    decimals: 3,
    get: ({ messages }) => messages.meanIntervalS,
    describe: 'mean time between two, gaps included',
  }),
  column({
    name: 'usual_interval_s',
    kind: 'number',
    unit: 's',
    decimals: 2,
    get: ({ messages }) => messages.usualIntervalS,
    describe: 'time between two that is met most often',
  }),
  column({
    name: 'announced_interval_s',
    kind: 'number',
    unit: 's',
    get: ({ messages }) => messages.announcedIntervalS,
    describe: 'as message 1013 says',
  }),
  column({
    name: 'longest_gap_s',
    kind: 'number',
    unit: 's',
    decimals: 3,
    get: ({ messages }) => messages.longestGapS,
    describe: 'longest time between two',
  }),
  column({
    name: 'first_utc',
    kind: 'time',
    get: ({ messages, calendar }) => utc(calendar, messages.firstMs),
    describe: 'first one; empty where the date is not known',
  }),
  column({
    name: 'last_utc',
    kind: 'time',
    get: ({ messages, calendar }) => utc(calendar, messages.lastMs),
    describe: 'last one',
  }),
  column({
    name: 'first_week_s',
    kind: 'number',
    unit: 's',
    decimals: 3,
    get: ({ messages }) => seconds(messages.firstMs),
    describe: 'first one, seconds of GPS time since the first week of the stream began',
  }),
  column({
    name: 'last_week_s',
    kind: 'number',
    unit: 's',
    decimals: 3,
    get: ({ messages }) => seconds(messages.lastMs),
    describe: 'last one, in the same way',
  }),
];
