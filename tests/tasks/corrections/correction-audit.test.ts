import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  announcementBits,
  biasesBits,
  frameOf,
  msmBits,
  namesBits,
  stationBits,
  textBits,
} from '../../../examples/quillback-pan-link/rtcm-encode.mjs';
import { streamTimeText, utcOfStream } from '../../../src/core/corrections/stream-time-text.js';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import { createFrameReader } from '../../../src/io/rtcm/frame-reader.js';
import { readMessage } from '../../../src/io/rtcm/read-message.js';
import type { CorrectionAudit } from '../../../src/records/corrections/correction-audit.js';
import { auditFindings } from '../../../src/tasks/corrections/audit-findings.js';
import { createCorrectionCount } from '../../../src/tasks/corrections/correction-audit.js';
import { streamCost } from '../../../src/tasks/corrections/stream-cost.js';

/** What files of these bytes hold. `dateMs`: of the first epoch. */
function audited(files: readonly Uint8Array[], dateMs: number | null = null): CorrectionAudit {
  const count = createCorrectionCount();
  for (const [index, bytes] of files.entries()) {
    count.begin();
    const reader = createFrameReader((content) => {
      count.add(readMessage(content), content.length);
    });
    reader.push(bytes);
    reader.end();
    count.end(String(index), reader.counts());
  }
  return count.result(dateMs, WGS84);
}

const stream = (...contents: readonly string[]): Uint8Array =>
  Buffer.concat(contents.map((content) => frameOf(content)));
const codes = (audit: CorrectionAudit): readonly string[] => auditFindings(audit).map(({ code }) => code);
const real = (name: string): Uint8Array => readFileSync(`tests/data/streams/stream-${name}.rtcm3`);

const WEEK_MS = 604_800_000;
const HERE = { stationId: 1, xM: 5068746.7347, yM: 1986420.124, zM: -3313809.5156 };
const GPS = { stationId: 1, number: 1074, satellites: [3], signals: [2], cells: [true] };

/** An epoch of GPS alone. */
const gps = (timeMs: number, more: Partial<Parameters<typeof msmBits>[0]> = {}): string =>
  msmBits({ ...GPS, timeMs, isFollowed: false, ...more });
/** An epoch of a constellation behind GPS. */
const epoch = (timeMs: number, other: Partial<Parameters<typeof msmBits>[0]>): readonly string[] => [
  gps(timeMs, { isFollowed: true }),
  gps(0, other),
];
const station = (more: Partial<Parameters<typeof stationBits>[0]> = {}): string => stationBits({ ...HERE, ...more });

describe('real streams', () => {
  // Source of all figures: GPSD-TESTS, the published decodes, made again by an independent program.
  it('a: the rate, the padding of each message, and times of four constellations that are one instant', () => {
    const audit = audited([real('a')]);
    expect(streamCost(audit, 8)?.bytesPerS).toBeCloseTo(946.2, 1);
    const padding = new Map(audit.messages.map(({ number, paddingBytes }) => [number, paddingBytes]));
    // 1077 of 13 to 16 cells is sent with 244 bytes, 1087 of 15 cells with 220.
    expect(padding.get(1077)).toBe(26 * 50);
    expect(padding.get(1127)).toBe(0);
    const [own] = audit.stations;
    expect(
      own?.timeChecks.map(({ constellation, compared, disagreeing }) => [constellation, compared, disagreeing]),
    ).toEqual([
      ['Galileo', 26, 0],
      ['BeiDou', 26, 0],
      ['GLONASS', 26, 0],
    ]);
    expect(audit.calendar).toMatchObject({ leapSeconds: 18, leapFrom: 'reconciled', zeroMs: null });
    expect(own?.epochs).toMatchObject({ count: 26, usualIntervalS: 1 });
    expect(own?.incompleteEpochs).toBe(0);
    expect(codes(audit)).toEqual(['stream-cut']);
  });

  it('b: a coordinate that was typed in, in an ITRF of year 5', () => {
    const audit = audited([real('b')]);
    expect(audit.stations[0]?.positions.listed).toMatchObject([
      { arp: { xM: 1112189.9, yM: -4842955.0001, zM: 3985352.2 }, itrfYear: 5, count: 17, antennaHeightM: 0 },
    ]);
    expect(codes(audit)).toEqual(['stream-position-rounded']);
  });

  it('c: what 1013 announces is what came, and gives the date and the leap seconds', () => {
    const audit = audited([real('c')]);
    const kept = audit.messages.map(({ number, usualIntervalS, announcedIntervalS }) => [
      number,
      usualIntervalS,
      announcedIntervalS,
    ]);
    expect(kept).toEqual([
      [1004, 1, 1],
      [1006, 10, 10],
      [1012, 1, 1],
      [1013, 10, 10],
    ]);
    expect(audit.calendar).toMatchObject({ leapSeconds: 15, leapFrom: 'announced', dateFrom: 'message' });
    expect(streamTimeText(audit.calendar, audit.stations[0]?.firstMs ?? 0)).toBe('2011-03-01T05:56:29Z');
    // Mark: the height taken off once, along the normal of the ellipsoid.
    const [position] = audit.stations[0]?.positions.listed ?? [];
    expect(
      (position?.geodetic.ellipsoidalHeightM ?? 0) - (position?.markGeodetic?.ellipsoidalHeightM ?? 0),
    ).toBeCloseTo(0.0349, 9);
    expect(codes(audit)).toEqual(['stream-no-biases']);
  });

  it('two in one file: both stations, each with its own', () => {
    const audit = audited([Buffer.concat([real('b'), real('c')])]);
    expect(audit.stations.map(({ stationId, epochs }) => [stationId, epochs.count])).toEqual([
      [0, 83],
      [700, 166],
    ]);
    expect(audit.stations.map(({ epochs }) => epochs.gaps.listed.length)).toEqual([0, 0]);
  });
});

describe('times', () => {
  // The same instant by three constellations. Source: GPSD-TESTS, decodes of two logs.
  it.each([
    { gpsMs: 318_945_000, beidouMs: 318_931_000, day: 3, moscowMs: 70_527_000 },
    { gpsMs: 375_227_001, beidouMs: 375_213_001, day: 4, moscowMs: 40_409_001 },
  ])('of GPS ($gpsMs), BeiDou and GLONASS of one epoch are one instant with 18 leap seconds', (said) => {
    const bytes = stream(
      gps(said.gpsMs, { isFollowed: true }),
      gps(said.beidouMs, { number: 1124, isFollowed: true }),
      gps(said.moscowMs, { number: 1084, dayOfWeek: said.day }),
    );
    const audit = audited([bytes]);
    expect(audit.stations[0]?.timeChecks).toEqual([
      { constellation: 'BeiDou', against: 'GPS', compared: 1, disagreeing: 0, largestMs: 0 },
      { constellation: 'GLONASS', against: 'GPS', compared: 1, disagreeing: 0, largestMs: 0 },
    ]);
    expect(audit.calendar.leapSeconds).toBe(18);
    // GLONASS alone shows the same instant.
    const alone = audited([stream(gps(said.moscowMs, { number: 1084, dayOfWeek: said.day }))]);
    expect(alone.stations[0]?.firstMs).toBe(said.gpsMs);
  });

  it('of BeiDou without its 14 s are said to be another instant', () => {
    const bytes = stream(...epoch(318_945_000, { number: 1124, timeMs: 318_945_000 }));
    expect(codes(audited([bytes]))).toContain('stream-times-disagree');
  });

  it('of GLONASS that are no whole seconds from UTC are said to be another instant', () => {
    const bytes = stream(...epoch(318_945_000, { number: 1084, dayOfWeek: 3, timeMs: 70_527_400 }));
    expect(codes(audited([bytes]))).toContain('stream-times-disagree');
  });

  it('go on over the end of the week', () => {
    const last = WEEK_MS - 2000;
    const bytes = stream(...[0, 1, 2, 3, 4].map((step) => gps((last + step * 1000) % WEEK_MS)));
    const { epochs } = audited([bytes]).stations[0] ?? {};
    expect(epochs).toMatchObject({ count: 5, longestGapS: 1, stepsBack: 0, firstMs: last, lastMs: last + 4000 });
  });

  it('have the date that is asked for, where the first epoch is on its day of the week', () => {
    // Wednesday 4 March 2026, 06:00:00 UTC.
    const tow = (3 * 86_400 + 6 * 3600 + 18) * 1000;
    const day = Date.UTC(2026, 2, 4);
    const audit = audited([stream(gps(tow))], day);
    expect(utcOfStream(audit.calendar, tow)).toBe(day + 6 * 3_600_000);
    expect(audit.calendar).toMatchObject({ leapSeconds: 18, leapFrom: 'table' });
    expect(audited([stream(gps(tow))], day + 86_400_000).calendar.zeroMs).toBeNull();
    // The first seconds of a week of GPS time are still Saturday in UTC.
    const sunday = audited([stream(gps(5000))], Date.UTC(2026, 2, 7));
    expect(utcOfStream(sunday.calendar, 5000)).toBe(Date.UTC(2026, 2, 7) + 86_400_000 - 13_000);
  });

  it('that a message says are held against the date that is asked for', () => {
    const tow = (3 * 86_400 + 6 * 3600 + 18) * 1000;
    const said = { stationId: 1, modifiedJulianDay: 61103, secondOfDay: 6 * 3600, text: 'now' };
    expect(codes(audited([stream(gps(tow), textBits(said))], Date.UTC(2026, 2, 4)))).not.toContain(
      'stream-date-disagrees',
    );
    expect(codes(audited([stream(gps(tow), textBits(said))], Date.UTC(2026, 2, 11)))).toContain(
      'stream-date-disagrees',
    );
    const late = textBits({ ...said, secondOfDay: 6 * 3600 + 90 });
    expect(codes(audited([stream(gps(tow), late)]))).toContain('stream-date-disagrees');
  });

  it('of a second file lie behind those of the first, so that a Friday is not put before its Monday', () => {
    const day = 86_400_000;
    const [monday, friday] = [day + 36_000_000, 5 * day + 36_000_000];
    const later = audited([stream(gps(monday), gps(monday + 1000)), stream(gps(friday))], Date.UTC(2026, 2, 2));
    expect(later.files.map(({ firstMs }) => utcOfStream(later.calendar, firstMs ?? 0))).toEqual([
      Date.UTC(2026, 2, 2) + 36_000_000 - 18_000,
      Date.UTC(2026, 2, 6) + 36_000_000 - 18_000,
    ]);
    // Two recordings of one day overlap.
    const beside = audited([stream(gps(monday), gps(monday + 9_000_000)), stream(gps(monday))]);
    expect(beside.files.map(({ firstMs }) => firstMs)).toEqual([monday, monday]);
  });

  it('that a second file says are held against its epochs too', () => {
    const tow = (3 * 86_400 + 6 * 3600 + 18) * 1000;
    const said = (modifiedJulianDay: number): string =>
      textBits({ stationId: 1, modifiedJulianDay, secondOfDay: 6 * 3600, text: 'now' });
    const week = [stream(gps(tow), said(61103)), stream(gps(tow), said(61110))];
    expect(codes(audited(week))).toContain('stream-date-disagrees');
    expect(audited(week).calendar.statedOffS).toBe(7 * 86_400);
  });

  it('take no leap seconds from a base that does not know them', () => {
    const tow = (3 * 86_400 + 6 * 3600 + 18) * 1000;
    const announced = (leapSeconds: number): string =>
      announcementBits({ stationId: 1, modifiedJulianDay: 61103, secondOfDay: 6 * 3600, leapSeconds, announced: [] });
    for (const leapSeconds of [0, 255]) {
      const audit = audited([stream(gps(tow), announced(leapSeconds))]);
      expect(audit.calendar).toMatchObject({ leapSeconds: 18, leapFrom: 'table', statedOffS: 0 });
      expect(utcOfStream(audit.calendar, tow)).toBe(Date.UTC(2026, 2, 4) + 6 * 3_600_000);
    }
  });

  it('of constellations that round to a millisecond are one epoch', () => {
    const epochs = [100_000, 101_000, 102_000].flatMap((ms) => [
      gps(ms, { isFollowed: true }),
      gps(ms + 1 - 14_000, { number: 1124, isFollowed: true }),
      gps(ms, { number: 1094 }),
    ]);
    const audit = audited([stream(station({ xM: HERE.xM + 0.0123 }), ...epochs)]);
    expect(audit.stations[0]?.epochs).toMatchObject({ count: 3, usualIntervalS: 1, stepsBack: 0 });
    expect(codes(audit)).toEqual([]);
  });

  it('of a second file lie near those of the first over the end of a week', () => {
    const audit = audited([stream(gps(WEEK_MS - 1000)), stream(gps(4000), gps(5000))]);
    expect(audit.stations[0]?.epochs).toMatchObject({ count: 3, longestGapS: 5 });
    // The five seconds between the files are of neither.
    expect(audit.seconds).toBe(1 + 1 + 1);
  });

  // GPS 318945.000 s of week, GLONASS day 3 70527.000 s are one instant with 18 leap seconds. Source: GPSD-TESTS, decodes of a log.
  const GLONASS = { number: 1084, dayOfWeek: 3 };
  const moscow = (step: number, leapSeconds = 18): number => 70_527_000 + step * 1000 + (18 - leapSeconds) * 1000;

  it('of GLONASS alone are UTC with 3 h taken off the Moscow day, whatever the leap seconds', () => {
    const bytes = stream(...[0, 1, 2, 5].map((step) => gps(moscow(step), GLONASS)));
    const audit = audited([bytes]);
    expect(audit.stations[0]?.epochs).toMatchObject({
      count: 4,
      firstMs: 318_945_000,
      usualIntervalS: 1,
      longestGapS: 3,
    });
    expect(audit.seconds).toBe(6);
    expect(audit.stations[0]?.timeChecks).toEqual([]);
    // A Wednesday of 18 and one of 16 leap seconds, 19:35:27 in Moscow.
    for (const [year, month, day, leapSeconds] of [
      [2026, 2, 4, 18],
      [2014, 2, 5, 16],
    ] as const) {
      const dated = audited([bytes], Date.UTC(year, month, day));
      expect(dated.calendar).toMatchObject({ leapSeconds, leapFrom: 'table' });
      expect(utcOfStream(dated.calendar, dated.stations[0]?.firstMs ?? 0)).toBe(Date.UTC(year, month, day, 16, 35, 27));
    }
  });

  it('of GLONASS alone are held against the date and time that a message says', () => {
    const said = (modifiedJulianDay: number, secondOfDay: number): string =>
      textBits({ stationId: 1, modifiedJulianDay, secondOfDay, text: 'now' });
    // 5 March 2014 is day 56721 and 16:35:27 UTC second 59727.
    const audit = audited([stream(gps(moscow(0), GLONASS), said(56_721, 59_727))]);
    expect(audit.calendar).toMatchObject({ leapSeconds: 16, statedOffS: 0 });
    expect(codes(audited([stream(gps(moscow(0), GLONASS), said(56_721, 59_817))]))).toContain('stream-date-disagrees');
  });

  it('of GLONASS that comes between epochs of GPS are its own, by the leap seconds of those with both', () => {
    for (const leapSeconds of [18, 15]) {
      const whole = (step: number): readonly string[] =>
        epoch(318_945_000 + step * 1000, { ...GLONASS, timeMs: moscow(step, leapSeconds) });
      const alone = (step: number): string => gps(moscow(step, leapSeconds), GLONASS);
      const audit = audited([
        stream(...[0, 5, 10].flatMap((from) => [...whole(from), ...[1, 2, 3, 4].map((step) => alone(from + step))])),
      ]);
      expect(audit.calendar).toMatchObject({ leapSeconds, leapFrom: 'reconciled' });
      expect(audit.stations[0]?.epochs).toMatchObject({ count: 15, usualIntervalS: 1, longestGapS: 1, stepsBack: 0 });
      const tally = new Map(audit.messages.map(({ number, usualIntervalS }) => [number, usualIntervalS]));
      expect([tally.get(1074), tally.get(1084)]).toEqual([5, 1]);
      expect(audit.stations[0]?.timeChecks).toMatchObject([{ constellation: 'GLONASS', compared: 3, disagreeing: 0 }]);
    }
  });

  it('of an epoch that lost its last message are not held against those of the next one', () => {
    const glonass = (step: number): string => gps(moscow(step), { ...GLONASS, isFollowed: true });
    const whole = (step: number): readonly string[] => [glonass(step), gps(318_945_000 + step * 1000)];
    // Of every second epoch GPS is lost; behind it comes GPS of the next one, whose GLONASS is lost.
    const lost = (step: number): readonly string[] => [glonass(step), gps(318_946_000 + step * 1000)];
    const audit = audited([stream(...[0, 1, 2, 3, 4].flatMap(whole), ...[5, 7, 9, 11].flatMap(lost))]);
    expect(audit.stations[0]?.timeChecks).toEqual([
      { constellation: 'GLONASS', against: 'GPS', compared: 5, disagreeing: 0, largestMs: 0 },
    ]);
    expect(audit.stations[0]).toMatchObject({ incompleteEpochs: 4, epochs: { count: 13, longestGapS: 1 } });
  });

  it('of GLONASS that comes first in an epoch, or in the night of a Sunday in Moscow, go on as those of GPS', () => {
    // Sunday 00:00:00 in Moscow is Saturday 21:00:00 UTC, 18 s later in GPS time.
    const night = WEEK_MS - 3 * 3_600_000 + 18_000;
    const first = (step: number): readonly string[] => [
      gps(step * 1000, { number: 1084, dayOfWeek: 0, isFollowed: true }),
      gps(night + step * 1000),
    ];
    const audit = audited([stream(...[0, 1, 2].flatMap(first))]);
    expect(audit.stations[0]?.epochs).toMatchObject({ count: 3, firstMs: night, stepsBack: 0, longestGapS: 1 });
    expect(codes(audit)).not.toContain('stream-times-disagree');
  });

  it('that step back are counted', () => {
    expect(codes(audited([stream(gps(9000), gps(10_000), gps(9000), gps(10_000))]))).toContain('stream-time-back');
  });
});

describe('epochs', () => {
  it('without their last message are incomplete, but for the one in which a recording ends', () => {
    const whole = (ms: number): readonly string[] => epoch(ms, { number: 1094, timeMs: ms });
    const cut = (ms: number): string => gps(ms, { isFollowed: true });
    const audit = audited([stream(...whole(1000), cut(2000), ...whole(3000), cut(4000), ...whole(5000), cut(6000))]);
    expect(audit.stations[0]).toMatchObject({ incompleteEpochs: 2, epochs: { count: 6 } });
    expect(codes(audit)).toContain('stream-epochs-incomplete');
  });

  it('that are missing are gaps; one late second of ten is none', () => {
    const audit = audited([stream(...[0, 1, 2, 3, 7, 8, 9, 11].map((second) => gps(second * 1000)))]);
    expect(audit.stations[0]?.epochs.gaps).toEqual({
      listed: [
        { fromMs: 3000, toMs: 7000 },
        { fromMs: 9000, toMs: 11_000 },
      ],
      leftOut: 0,
    });
  });

  it('that come at another interval than is announced are said', () => {
    const announced = announcementBits({
      stationId: 1,
      modifiedJulianDay: 61103,
      secondOfDay: 0,
      leapSeconds: 18,
      announced: [{ number: 1074, isSynchronous: true, intervalS: 1 }],
    });
    const at = (step: number): readonly string[] =>
      [0, 1, 2, 3].map((index) => gps(3 * 86_400_000 + 18_000 + index * step));
    expect(codes(audited([stream(...at(1000).slice(0, 1), announced, ...at(1000).slice(1))]))).not.toContain(
      'stream-interval',
    );
    expect(codes(audited([stream(...at(2000).slice(0, 1), announced, ...at(2000).slice(1))]))).toContain(
      'stream-interval',
    );
  });
});

describe('satellites', () => {
  const at = (timeMs: number, number: number, count: number, isFollowed: boolean): string => {
    const satellites = Array.from({ length: count }, (_, index) => index + (isFollowed ? 1 : 33));
    return gps(timeMs, { number, satellites, cells: satellites.map(() => true), isFollowed });
  };

  it('of an epoch that comes in two messages are counted together', () => {
    const audit = audited([stream(at(0, 1077, 12, true), at(0, 1077, 6, false), at(1000, 1077, 12, true))]);
    expect(audit.stations[0]?.constellations[0]).toMatchObject({ meanSatellites: 15, mostSatellites: 18 });
  });

  it('that two kinds of message say are counted once', () => {
    const audit = audited([stream(at(0, 1074, 12, true), at(0, 1077, 12, false))]);
    expect(audit.stations[0]?.constellations[0]).toMatchObject({ meanSatellites: 12, mostSatellites: 12 });
  });
});

describe('stations', () => {
  it('that change coordinate or height are said to, once for each change; 1005 between 1006 changes nothing', () => {
    const audit = audited([
      stream(
        gps(1000),
        station(),
        station({ antennaHeightM: 1.6 }),
        station(),
        gps(2000),
        station({ antennaHeightM: 1.653 }),
        gps(3000),
        station({ antennaHeightM: 1.653, xM: HERE.xM + 0.0001 }),
      ),
    ]);
    expect(
      audit.stations[0]?.positions.listed.map(({ antennaHeightM, firstMs, lastMs, count }) => [
        antennaHeightM,
        firstMs,
        lastMs,
        count,
      ]),
    ).toEqual([
      [1.6, 1000, 1000, 3],
      [1.653, 2000, 2000, 1],
      [1.653, 3000, 3000, 1],
    ]);
    expect(codes(audit).filter((code) => code.endsWith('changed'))).toEqual([
      'stream-antenna-height-changed',
      'stream-position-changed',
    ]);
  });

  it('keep so many changes and count the others', () => {
    const moving = Array.from({ length: 300 }, (_, index) => station({ xM: HERE.xM + index }));
    expect(audited([stream(gps(0), ...moving)]).stations[0]?.positions).toMatchObject({ leftOut: 100 });
  });

  it('without a coordinate, computed ones and null antennas are said to be so', () => {
    expect(codes(audited([stream(gps(0))]))).toEqual(['stream-no-position']);
    expect(codes(audited([stream(gps(0), station({ isComputed: true }))]))).toEqual(['stream-station-computed']);
    const names = namesBits({ stationId: 1, antenna: 'ADVNULLANTENNA' });
    expect(codes(audited([stream(gps(0), station({ xM: HERE.xM + 0.0123 }), names)]))).toEqual(['stream-null-antenna']);
  });

  it('that send the centre of the Earth send no coordinate, and none that was typed in', () => {
    expect(codes(audited([stream(gps(0), station({ xM: 0, yM: 0, zM: 0 }))]))).toEqual(['stream-no-position']);
  });

  it('that were typed in by latitude and longitude are said to be rounded, measured ones are not', () => {
    const at = (latitudeDeg: number, longitudeDeg: number): string =>
      station(geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM: 1044.537 }, WGS84));
    expect(codes(audited([stream(gps(0), at(-31.500123, 21.400045))]))).toEqual(['stream-position-rounded']);
    expect(codes(audited([stream(gps(0), at(-31.500123_04, 21.400045_05))]))).toEqual([]);
  });

  it('that sent GLONASS with biases need no warning', () => {
    const glonass = epoch(318_945_000, { number: 1084, dayOfWeek: 3, timeMs: 70_527_000 });
    expect(codes(audited([stream(...glonass)]))).toContain('stream-no-biases');
    const biases = biasesBits({ stationId: 1, isAligned: true, steps: [1, null, null, null] });
    expect(codes(audited([stream(...glonass, biases)]))).not.toContain('stream-no-biases');
  });

  it('have names that 1008 and 1033 say together, and change when one contradicts', () => {
    const short = namesBits({ stationId: 1, antenna: 'A', antennaSerial: '1' });
    const long = namesBits({ stationId: 1, antenna: 'A', antennaSerial: '1', receiver: 'R' });
    const other = namesBits({ stationId: 1, antenna: 'A', antennaSerial: '2' });
    const audit = audited([stream(gps(0), short, long, short, other)]);
    expect(
      audit.stations[0]?.names.listed.map(({ antennaSerial, receiver, count }) => [antennaSerial, receiver, count]),
    ).toEqual([
      ['1', 'R', 3],
      ['2', null, 1],
    ]);
    expect(codes(audit)).toContain('stream-names-changed');
  });

  it('do not lose their place to fillers and short messages, which are counted', () => {
    const audit = audited([stream(gps(0), '', station().slice(0, 100), station())]);
    expect(audit.shortMessages).toBe(1);
    expect(audit.stations).toHaveLength(1);
    expect(codes(audit)).toContain('stream-short-message');
  });
});
