import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  announcementBits,
  biasesBits,
  frameOf,
  msmBits,
  namesBits,
  olderBits,
  stationBits,
  textBits,
} from '../../../examples/quillback-pan-link/rtcm-encode.mjs';
import { createFrameReader } from '../../../src/io/rtcm/frame-reader.js';
import { readMessage } from '../../../src/io/rtcm/read-message.js';
import type { CorrectionMessage, ObservationsMessage } from '../../../src/records/corrections/correction-message.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { seededRandom } from '../../support/seeded-random.js';

const messageOf = (frame: Uint8Array): CorrectionMessage => readMessage(frame.subarray(3, -3));

const BASE = { stationId: 17, itrfYear: 0, isComputed: false, xM: 5068746.7347, yM: 1986420.124, zM: -3313809.5156 };
const ANTENNA = {
  antenna: 'INVENTED_ANT  NONE',
  antennaSerial: null,
  receiver: null,
  firmware: null,
  receiverSerial: null,
};

/** What the rows of tests/reference/rtcm-frames.csv hold. */
const HELD: Readonly<Record<string, object>> = {
  'the example of the standard': {
    kind: 'station',
    number: 1005,
    stationId: 2003,
    xM: 1114104.5999,
    yM: -4850729.7108,
    zM: 3975521.4643,
    antennaHeightM: null,
  },
  '1005': { kind: 'station', number: 1005, ...BASE, antennaHeightM: null },
  '1006': { kind: 'station', number: 1006, ...BASE, antennaHeightM: 1.5321 },
  '1006 highest antenna': { stationId: 4095, xM: -6378137, yM: 0.0001, zM: -0.0001, antennaHeightM: 6.5535 },
  '1007': { kind: 'names', number: 1007, stationId: 17, ...ANTENNA, setupId: 0 },
  '1008': { kind: 'names', number: 1008, stationId: 17, ...ANTENNA, setupId: 3, antennaSerial: 'SN0042' },
  '1033': {
    number: 1033,
    receiver: 'INVENTED RECEIVER',
    firmware: '1.0',
    receiverSerial: 'R7',
    antennaSerial: 'SN0042',
  },
  '1230': {
    kind: 'biases',
    stationId: 17,
    isAligned: true,
    biasesM: [
      { signal: 'L1 C/A', biasM: -3 },
      { signal: 'L2 C/A', biasM: 4.5 },
    ],
  },
  '1013': {
    kind: 'announcement',
    modifiedJulianDay: 61372,
    secondOfDay: 21600,
    leapSeconds: 18,
    announced: [
      { number: 1077, isSynchronous: true, intervalS: 1 },
      { number: 1006, isSynchronous: true, intervalS: 10 },
      { number: 1230, isSynchronous: true, intervalS: 5 },
    ],
  },
  '1029': { kind: 'text', text: 'Feld Süd', characters: 8, modifiedJulianDay: 61372 },
};

describe('readMessage', () => {
  for (const row of readReferenceTable('rtcm-frames'))
    it(`reads ${row.case}`, () => {
      const held = HELD[row.case];
      expect(held).toBeDefined();
      const message = messageOf(Uint8Array.from(Buffer.from(row.text('frame_hex'), 'hex')));
      expect(message).toMatchObject(held ?? {});
    });

  for (const row of readReferenceTable('rtcm-msm-heads'))
    it(`reads the head of ${row.case} and knows its size`, () => {
      const count = {
        satellites: row.number('satellites'),
        signals: row.number('signals'),
        cells: row.number('cells'),
      };
      const first = (n: number): readonly number[] => Array.from({ length: n }, (_, index) => 2 + 2 * index);
      const number = row.number('number');
      const isMoscow = Math.floor(number / 10) === 108;
      const content = msmBits({
        number,
        stationId: row.number('station'),
        timeMs: row.number('time_ms'),
        dayOfWeek: isMoscow ? 3 : null,
        isFollowed: row.number('multiple') === 1,
        satellites: first(count.satellites),
        signals: first(count.signals),
        cells: Array.from({ length: count.satellites * count.signals }, (_, index) => index < count.cells),
      });
      expect(content.length).toBe(row.number('bits'));
      const padding = row.number('payload_bytes') - row.number('bytes');
      const frame = frameOf(content, padding);
      expect(frame.length - 6).toBe(row.number('payload_bytes'));
      expect(messageOf(frame)).toMatchObject({
        kind: 'observations',
        number,
        stationId: row.number('station'),
        timeMs: row.number('time_ms'),
        dayOfWeek: isMoscow ? 3 : null,
        isFollowed: row.number('multiple') === 1,
        satellites: count.satellites,
        signals: first(count.signals),
        cells: count.cells,
        neededBytes: row.number('bytes'),
      });
    });

  it('reads those heads of the table that stand in a stream that is here, by their checks', () => {
    const stream = readFileSync('tests/data/streams/stream-a.rtcm3');
    const heads = new Map<string, ObservationsMessage & { readonly length: number }>();
    const reader = createFrameReader((content, offset) => {
      const message = readMessage(content);
      const end = offset + 3 + content.length;
      if (message.kind === 'observations')
        heads.set(
          stream
            .subarray(end, end + 3)
            .toString('hex')
            .toUpperCase(),
          { ...message, length: content.length },
        );
    });
    reader.push(stream);
    reader.end();
    const rows = readReferenceTable('rtcm-msm-heads').filter((row) => heads.has(row.text('crc')));
    expect(rows).toHaveLength(4);
    for (const row of rows)
      expect(heads.get(row.text('crc'))).toMatchObject({
        number: row.number('number'),
        length: row.number('payload_bytes'),
        neededBytes: row.number('bytes'),
        timeMs: row.number('time_ms'),
        satellites: row.number('satellites'),
        cells: row.number('cells'),
        stationId: row.number('station'),
      });
  });

  const WHOLE = {
    a: { good: 182, failed: 3, bytesOutside: 8169 },
    b: { good: 183, failed: 0, bytesOutside: 56 },
    c: { good: 183, failed: 0, bytesOutside: 103 },
  };
  // Source of counts and coordinates: GPSD-TESTS, the published decodes of these logs (with the messages that were taken out of them).
  for (const [name, counts, place] of [
    [
      'a',
      { 1005: 26, 1077: 26, 1087: 26, 1097: 26, 1127: 26, 1230: 26, 4072: 26 },
      { stationId: 0, xM: -2386072.731, yM: -3922192.5049, zM: 4414363.4131, antennaHeightM: null },
    ],
    ['b', { 1004: 166, 1006: 17 }, { stationId: 700, itrfYear: 5, xM: 1112189.9, yM: -4842955.0001, zM: 3985352.2 }],
    [
      'c',
      { 1004: 83, 1006: 8, 1012: 84, 1013: 8 },
      { xM: 4581694.6288, yM: 556114.3725, zM: 4389358.4678, antennaHeightM: 0.0349, quarterCycle: 1 },
    ],
  ] as const)
    it(`reads stream ${name} whole: every message, one coordinate`, () => {
      const found: Record<string, number> = {};
      const reader = createFrameReader((content) => {
        const message = readMessage(content);
        found[String(message.number)] = (found[String(message.number)] ?? 0) + 1;
        expect(message.kind).not.toBe('short');
        if (message.kind === 'station') expect(message).toMatchObject(place);
        // The older messages fill their contents to the byte; the others may be padded, and are never too short.
        if (message.kind === 'observations' && message.cells === null) expect(content.length).toBe(message.neededBytes);
      });
      reader.push(readFileSync(`tests/data/streams/stream-${name}.rtcm3`));
      reader.end();
      expect(found).toEqual(counts);
      // Bytes outside of frames: as a few lines of Python with a CRC of their own count them. The decode of a has 8,496, with the comment lines
      // that stood at its head; those of b and c have 200 and 199 frames, with messages of strings that were taken out.
      expect(reader.counts()).toMatchObject(WHOLE[name]);
    });

  it('gives back what was encoded, of random stations, names, times and masks', () => {
    const random = seededRandom(1005);
    const letters = (most: number): string =>
      String.fromCharCode(...Array.from({ length: random.index(most) }, () => 32 + random.index(95)));
    const tenths = (most: number): number => (random.index(2 * most) - most) / 10_000;
    for (let round = 0; round < 2000; round += 1) {
      const stationId = random.index(4096);
      const modifiedJulianDay = random.index(65_536);
      const secondOfDay = random.index(86_400);
      const station = {
        stationId,
        itrfYear: random.index(64),
        isComputed: random.index(2) === 1,
        xM: tenths(2 ** 31),
        yM: tenths(2 ** 31),
        zM: tenths(2 ** 31),
        quarterCycle: random.index(4),
        antennaHeightM: random.index(2) === 0 ? null : random.index(65_536) / 10_000,
      };
      expect(messageOf(frameOf(stationBits(station), random.index(3)))).toMatchObject(station);
      const names = {
        stationId,
        antenna: letters(40),
        setupId: random.index(256),
        antennaSerial: letters(20),
        receiver: letters(30),
        firmware: letters(9),
        receiverSerial: letters(9),
      };
      expect(messageOf(frameOf(namesBits(names)))).toMatchObject(names);
      const announced = Array.from({ length: random.index(32) }, () => ({
        number: random.index(4096),
        isSynchronous: random.index(2) === 1,
        intervalS: random.index(65_536) / 10,
      }));
      const announcement = { stationId, modifiedJulianDay, secondOfDay, leapSeconds: random.index(256), announced };
      expect(messageOf(frameOf(announcementBits(announcement)))).toMatchObject(announcement);
      const text = { stationId, modifiedJulianDay, secondOfDay, text: `${letters(30)}ü` };
      expect(messageOf(frameOf(textBits(text)))).toMatchObject(text);
      const steps = Array.from({ length: 4 }, () => (random.index(2) === 0 ? null : random.index(65_535) - 32_767));
      const biases = messageOf(frameOf(biasesBits({ stationId, isAligned: true, steps })));
      expect(
        biases.kind === 'biases' ? biases.biasesM.map(({ biasM }) => Math.round((biasM ?? 0) * 50)) : null,
      ).toEqual(steps.filter((step) => step !== null));
      const older = {
        number: [1001, 1002, 1003, 1004, 1009, 1010, 1011, 1012][random.index(8)] ?? 0,
        stationId,
        timeMs: random.index(86_400_000),
        isFollowed: random.index(2) === 1,
        satellites: random.index(4),
      };
      expect(messageOf(frameOf(olderBits({ ...older, behind: 600 })))).toMatchObject(older);
    }
  });

  it('says that a content is short, and never reads past its end', () => {
    for (const row of readReferenceTable('rtcm-frames')) {
      const content = Uint8Array.from(Buffer.from(row.text('frame_hex'), 'hex')).subarray(3, -3);
      for (let length = 0; length < content.length; length += 1) {
        const message = readMessage(content.subarray(0, length));
        expect(message.kind, `${row.case}, ${String(length)} bytes`).toBe('short');
      }
    }
    expect(readMessage(new Uint8Array())).toEqual({ kind: 'short', number: null });
  });

  it('takes no mask of more cells than a message may have', () => {
    const places = (n: number): readonly number[] => Array.from({ length: n }, (_, index) => index + 1);
    const made = (satellites: number, signals: number): CorrectionMessage =>
      messageOf(
        frameOf(
          msmBits({
            number: 1074,
            stationId: 1,
            timeMs: 0,
            isFollowed: false,
            satellites: places(satellites),
            signals: places(signals),
            cells: Array.from({ length: satellites * signals }, () => false),
          }),
        ),
      );
    expect(made(16, 4)).toMatchObject({ kind: 'observations', cells: 0 });
    expect(made(13, 5)).toEqual({ kind: 'short', number: 1074 });
  });

  it('does not count a bias as one that is sent as not valid, nor a day that the sender does not know', () => {
    const biases = messageOf(frameOf(biasesBits({ stationId: 1, isAligned: false, steps: [-32_768, 5, null, null] })));
    expect(biases).toMatchObject({ biasesM: [{ biasM: null }, { biasM: 0.1 }], isAligned: false });
    const head = msmBits({
      number: 1084,
      stationId: 1,
      timeMs: 5,
      dayOfWeek: 7,
      isFollowed: false,
      satellites: [],
      signals: [],
      cells: [],
    });
    expect(messageOf(frameOf(head))).toMatchObject({ dayOfWeek: null, clock: 'day', neededBytes: 22 });
  });

  it('counts any other number and reads nothing of it', () => {
    expect(messageOf(frameOf('111111101000' + '0'.repeat(28)))).toEqual({ kind: 'other', number: 4072 });
  });
});
