import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createFrameReader } from '../../../src/io/rtcm/frame-reader.js';
import { readMessage } from '../../../src/io/rtcm/read-message.js';
import type { Constellation, CorrectionMessage } from '../../../src/records/corrections/correction-message.js';
import { auditFindings } from '../../../src/tasks/corrections/audit-findings.js';
import { createCorrectionCount } from '../../../src/tasks/corrections/correction-audit.js';
import { streamCost } from '../../../src/tasks/corrections/stream-cost.js';
import { keptRecord } from '../../support/kept-record.js';

// Regression, kept whole: what is counted of invented streams, message by message, and of recorded ones. Whether counts are right is
// what correction-audit.test.ts holds against published decodes.

const FRAMES = {
  bytes: 5000,
  good: 40,
  failed: 1,
  damaged: 2,
  bytesOutside: 30,
  repeated: 0,
  lineFeeds: 0,
  afterReturns: 0,
  isCut: false,
};
const DAY_MS = 86_400_000;
const WEEK_MS = 7 * DAY_MS;
const MONDAY_MS = DAY_MS + 36_000_000;

interface Sent {
  readonly number?: number;
  readonly stationId?: number;
  readonly satellites?: number;
  readonly isFollowed?: boolean;
  readonly cells?: number | null;
  readonly neededBytes?: number | null;
  readonly signals?: readonly number[];
}
const NUMBERS: Partial<Record<Constellation, number>> = { GPS: 1074, GLONASS: 1084, Galileo: 1094, BeiDou: 1124 };
/** Observations at a time of the constellation's own clock: GLONASS counts the day of Moscow, BeiDou is 14 s behind GPS. */
function seen(constellation: Constellation, gpsMs: number, more: Sent = {}): CorrectionMessage {
  const isDay = constellation === 'GLONASS';
  const moscowMs = gpsMs - 18_000 + 3 * 3_600_000;
  return {
    ...{ kind: 'observations', number: NUMBERS[constellation] ?? 1104, stationId: 7, constellation },
    clock: isDay ? 'day' : 'week',
    timeMs: isDay ? moscowMs % DAY_MS : (gpsMs - (constellation === 'BeiDou' ? 14_000 : 0)) % WEEK_MS,
    dayOfWeek: isDay ? Math.floor(moscowMs / DAY_MS) % 7 : null,
    ...{ isFollowed: false, satellites: 9, signals: [2, 15], cells: 18, neededBytes: 150, ...more },
  };
}
const other: CorrectionMessage = { kind: 'other', number: 4094 };
const at = (gpsMs: number, more: Sent = {}): readonly CorrectionMessage[] => [
  seen('GPS', gpsMs, { ...more, isFollowed: true }),
  seen('GLONASS', gpsMs, { ...more, isFollowed: true, satellites: 6 }),
  seen('BeiDou', gpsMs, { ...more, satellites: 11, signals: [2, 8, 14] }),
];
const place = (more: object = {}): CorrectionMessage => ({
  ...{ kind: 'station', number: 1006, stationId: 7, itrfYear: 14, isComputed: false, quarterCycle: 0 },
  ...{ xM: 4208830.7263, yM: 1102421.1234, zM: 4648120.4441, antennaHeightM: 1.5, ...more },
});
const named = (more: object = {}): CorrectionMessage => ({
  ...{ kind: 'names', number: 1033, stationId: 7, antenna: 'INVENTED    NONE', setupId: 0, antennaSerial: '12' },
  ...{ receiver: 'ANY', firmware: '1', receiverSerial: '5', ...more },
});
const announced = (secondOfDay: number, leapSeconds = 18): CorrectionMessage => ({
  ...{ kind: 'announcement', number: 1013, stationId: 7, modifiedJulianDay: 61_004, secondOfDay, leapSeconds },
  announced: [{ number: 1006, isSynchronous: true, intervalS: 10 }],
});
const text = (secondOfDay: number): CorrectionMessage => ({
  ...{ kind: 'text', number: 1029, stationId: 7, modifiedJulianDay: 61_004, secondOfDay, characters: 4, text: 'word' },
});
const biases: CorrectionMessage = {
  ...{ kind: 'biases', number: 1230, stationId: 7, isAligned: true },
  biasesM: [
    { signal: 'L1 C/A', biasM: 0.02 },
    { signal: 'L2 P', biasM: null },
  ],
};
const seconds = (count: number, step = 1): readonly number[] =>
  Array.from({ length: count }, (_, second) => MONDAY_MS + 1000 * step * second);

const STREAMS: Readonly<Record<string, readonly (readonly CorrectionMessage[])[]>> = {
  'a plain stream': [[place(), named(), biases, ...seconds(12).flatMap((ms) => at(ms)), place()]],
  'two files, a gap, a step back': [
    [place(), ...seconds(5).flatMap((ms) => at(ms)), ...at(MONDAY_MS + 60_000), ...at(MONDAY_MS + 3000)],
    [...seconds(4, 30).flatMap((ms) => at(ms + 600_000))],
  ],
  'over the end of a week': [[announced(70_000), ...[-3, -2, -1, 0, 1, 2].flatMap((s) => at(WEEK_MS + 1000 * s))]],
  'positions, heights and names that change': [
    [
      ...[place(), named(), ...at(MONDAY_MS), place({ antennaHeightM: 1.6 }), ...at(MONDAY_MS + 1000)],
      ...[place({ antennaHeightM: 1.6, xM: 4208830.7363 }), named({ antenna: 'NULL ANTENNA', receiver: null })],
      ...[...at(MONDAY_MS + 2000), place({ itrfYear: 20, isComputed: true, antennaHeightM: null })],
      ...[place({ xM: 0, yM: 0, zM: 0 }), place({ xM: 4208830, yM: 1102421, zM: 4648120 })],
    ],
  ],
  'epochs that are not complete, and instants that disagree': [
    seconds(10).flatMap((ms, index) =>
      index % 3 === 0
        ? [seen('GPS', ms, { isFollowed: true }), seen('Galileo', ms, { isFollowed: true })]
        : [seen('GPS', ms, { isFollowed: true }), seen('Galileo', ms + (index % 2 === 0 ? 500 : 0))],
    ),
  ],
  'two stations, several messages of one number, unknown and short ones': [
    seconds(6).flatMap((ms): readonly CorrectionMessage[] => [
      ...[seen('GPS', ms, { isFollowed: true }), seen('GPS', ms, { isFollowed: true, satellites: 4, signals: [4] })],
      ...[seen('GPS', ms, { number: 1077, satellites: 12, cells: null, neededBytes: null }), place({ stationId: 8 })],
      ...[seen('GLONASS', ms, { stationId: 8, number: 1087 }), other],
      { kind: 'short', number: ms === MONDAY_MS ? null : 1005 },
    ]),
  ],
  'times that are said': [[text(36_000), announced(36_000), ...seconds(3).flatMap((ms) => at(ms)), text(39_999)]],
  'GLONASS alone': [seconds(4).map((ms) => seen('GLONASS', ms))],
  'no observations': [[place(), named({ number: 1008 }), biases]],
  nothing: [[]],
};

const findings = (audit: Parameters<typeof auditFindings>[0]): readonly string[] =>
  auditFindings(audit).map(({ code, message }) => `${code}: ${message}`);

describe('an invented stream, as it was counted', () => {
  it.each(Object.entries(STREAMS))('%s', async (name, files) => {
    const kept = [null, Date.UTC(2025, 10, 24)].map((dateMs) => {
      const count = createCorrectionCount();
      for (const [index, messages] of files.entries()) {
        count.begin();
        for (const [place_, message] of messages.entries())
          count.add(message, message.kind === 'short' ? place_ % 3 : 60 + (place_ % 7));
        count.end(String(index), { ...FRAMES, isCut: index === 1 });
      }
      const audit = count.result(dateMs, WGS84);
      const said = { findings: findings(audit), cost: [8, 30].map((days) => streamCost(audit, days)) };
      return dateMs === null ? { audit, ...said } : { calendar: audit.calendar, ...said };
    });
    await expect(keptRecord(kept)).toMatchFileSnapshot(`./audits/${name.replaceAll(/[, ]+/gu, '-')}.txt`);
  });
});

describe('a recorded stream, as it was counted', () => {
  it.each(['a', 'b', 'c'])('%s', async (name) => {
    const count = createCorrectionCount();
    count.begin();
    const reader = createFrameReader((content) => {
      count.add(readMessage(content), content.length);
    });
    reader.push(readFileSync(`tests/data/streams/stream-${name}.rtcm3`));
    reader.end();
    count.end(name, reader.counts());
    const audit = count.result(null, WGS84);
    await expect(keptRecord({ audit, findings: findings(audit) })).toMatchFileSnapshot(`./audits/recorded-${name}.txt`);
  });
});
