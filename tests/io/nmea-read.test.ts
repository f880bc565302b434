import { createReadStream, existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../src/io/csv-read.js';
import { DEFAULT_DIALECT } from '../../src/io/csv-dialect.js';
import type { RejectedRow } from '../../src/io/fixes-read.js';
import { createNmeaClock } from '../../src/io/nmea-clock.js';
import { readNmea } from '../../src/io/nmea-read.js';
import type { NmeaReadOptions } from '../../src/io/nmea-read.js';
import { isFault, nmeaAngle, nmeaSentence } from '../../src/io/nmea-sentence.js';
import { readOccupations } from '../../src/io/occupations-read.js';
import { openSource } from '../../src/io/source.js';
import type { Source } from '../../src/io/source.js';
import type { Fix } from '../../src/records/fix.js';
import type { Problem } from '../../src/records/problem.js';
import { codes, stdinSource, value } from './support.js';

/** A sentence with its checksum. */
function sentence(body: string): string {
  let sum = 0;
  for (const character of body) sum ^= character.charCodeAt(0);
  return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}\r\n`;
}

const gga = (time: string, quality = '4', more = 'M,-30.5,M,1.0,0001', minutes = '30.12345678'): string =>
  sentence(`GNGGA,${time},31${minutes},S,021${minutes},E,${quality},18,0.7,1043.25,${more}`);
const rmc = (time: string, date: string, status = 'A'): string =>
  sentence(`GNRMC,${time},${status},3130.12345678,S,02130.12345678,E,0.1,,${date},,,A`);

interface Result {
  readonly fixes: Fix[];
  readonly rejected: RejectedRow[];
  readonly warnings: Problem[];
  readonly failed: readonly Problem[];
}

async function readAll(source: Source, options: Partial<NmeaReadOptions> = {}): Promise<Result> {
  const result = { fixes: [] as Fix[], rejected: [] as RejectedRow[], warnings: [] as Problem[], failed: [] as readonly Problem[] };
  for await (const block of readNmea(source, { sourceIndex: 0, occupations: null, referencePoint: 'apc', ...options }).blocks()) {
    if (!block.ok) result.failed = block.problems;
    else {
      result.fixes.push(...block.value.fixes);
      result.rejected.push(...block.value.rejected);
      result.warnings.push(...block.value.warnings);
    }
  }
  return result;
}

const read = async (text: string, options: Partial<NmeaReadOptions> = {}, chunk = 1 << 16): Promise<Result> =>
  readAll(await stdinSource(text, chunk), options);

describe('readNmea', () => {
  it('joins GGA, GST, GSA and RMC of one time into a fix, in chunks of any size', async () => {
    const log =
      rmc('060000.00', '040326') + gga('060000.00') + sentence('GNGSA,A,3,01,02,,,,,,,,,,,1.4,0.7,1.2,1') +
      sentence('GNGST,060000.00,1.1,,,,0.009,0.008,0.020') + sentence('GPGSV,1,1,00') + rmc('060001.00', '040326') + gga('060001.00', '5');
    for (const chunk of [1, 7, 1000]) {
      const { fixes, rejected, failed } = await read(log, {}, chunk);
      expect([rejected, failed]).toEqual([[], []]);
      expect(fixes).toHaveLength(2);
      expect(fixes[0]).toMatchObject({
        pointId: 'stdin', epochMs: Date.UTC(2026, 2, 4, 6), referencePoint: 'apc', solution: 'fixed', satellitesUsed: 18,
        correctionAgeS: 1, pdop: 1.4, hdop: 0.7, vdop: 1.2, sigmaNorthM: 0.009, sigmaEastM: 0.008, sigmaUpM: 0.02,
        poleLengthM: null, place: { line: 2 },
      });
      expect(fixes[0]?.geodetic.ellipsoidalHeightM).toBeCloseTo(1043.25 - 30.5, 9);
      expect(fixes[0]?.geodetic.latitudeDeg).toBeCloseTo(-(31 + 30.12345678 / 60), 12);
      expect(fixes[1]).toMatchObject({ solution: 'float', pdop: null, sigmaUpM: null });
    }
  });

  // Reference value O-36: the sentence of the common tutorials, from memory; its checksum was recomputed.
  it('reads the well-known GGA sentence to 48.1173, 11.516666667 and h = 545.4 + 46.9, and refuses it for its precision', async () => {
    const text = '$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47';
    const parsed = nmeaSentence(text);
    if (isFault(parsed)) throw new Error(parsed.message);
    expect(nmeaAngle(parsed.field(2), parsed.field(3), 'latitude')).toMatchObject({ degrees: expect.closeTo(48.1173, 9) as number });
    expect(nmeaAngle(parsed.field(4), parsed.field(5), 'longitude')).toMatchObject({ degrees: expect.closeTo(11.516666667, 9) as number });
    expect((await read(`${text}\r\n`)).rejected[0]?.problems[0]?.code).toBe('nmea-precision');
    const finer = sentence('GPGGA,123519,4807.0380000,N,01131.0000000,E,1,08,0.9,545.4,M,46.9,M,,') + rmc('123519', '230394');
    const { fixes } = await read(finer);
    expect(fixes[0]).toMatchObject({ solution: 'autonomous', correctionAgeS: null, epochMs: Date.UTC(1994, 2, 23, 12, 35, 19) });
    expect(fixes[0]?.geodetic.ellipsoidalHeightM).toBeCloseTo(592.3, 9);
  });

  it('carries the date over midnight, and dates epochs before the first date backwards', async () => {
    const { fixes } = await read(gga('235958.00') + gga('235959.00') + gga('000000.00') + rmc('000000.00', '050326') + gga('000001.00') + gga('235959.50') + gga('000000.50'));
    expect(fixes.map((fix) => new Date(fix.epochMs ?? 0).toISOString().slice(0, 21))).toEqual([
      '2026-03-04T23:59:58.0', '2026-03-04T23:59:59.0', '2026-03-05T00:00:00.0', '2026-03-05T00:00:01.0',
      // A clock that steps back over midnight is put on the nearest day too.
      '2026-03-04T23:59:59.5', '2026-03-05T00:00:00.5',
    ]);
  });

  it('takes the date from ZDA too, and fails without any', async () => {
    const { fixes } = await read(gga('060000.00') + sentence('GNZDA,060000.00,04,03,2026,00,00'));
    expect(fixes[0]?.epochMs).toBe(Date.UTC(2026, 2, 4, 6));
    expect((await read(gga('060000.00') + rmc('060000.00', '040326', 'V'))).failed).toMatchObject([{ code: 'nmea-no-date' }]);
  });

  it('leaves epochs without a satellite position out and counts them in a note', async () => {
    const { fixes, rejected, warnings } = await read(rmc('060000.00', '040326') + gga('060000.00') + gga('060001.00', '0') + gga('060002.00', '6') + gga('060003.00', '3'));
    expect(fixes.map((fix) => fix.solution)).toEqual(['fixed', 'autonomous']);
    expect(rejected).toEqual([]);
    expect(warnings).toMatchObject([{ severity: 'note', message: expect.stringMatching(/^2 epochs/) as string }]);
  });

  it.each([
    ['$GNGGA,060000.00*00\r\n', 'nmea-checksum'],
    ['$GNGGA,060000.00\r\n', 'nmea-syntax'],
    ['hello\r\n', 'nmea-syntax'],
    [gga('060000.00', '4', 'M,,M,1.0,0001'), 'nmea-missing-field'],
    [gga('060000.00', ''), 'nmea-missing-field'],
    [gga('060000.00', '4', 'F,-30.5,M,1.0,0001'), 'nmea-syntax'],
    [gga('060000.00', '4', undefined, '30.12345'), 'nmea-precision'],
    [gga('060000.00', '4', undefined, '60.1234567'), 'latitude-out-of-range'],
    [gga('066000.00'), 'nmea-syntax'],
  ])('rejects the line %j as %s, with its number', async (line, code) => {
    const { rejected, fixes } = await read(`\r\n${line}`);
    expect(fixes).toEqual([]);
    expect(rejected).toMatchObject([{ line: 2, raw: line.trim(), problems: [{ code, where: { line: 2 } }] }]);
  });

  it('warns once of six decimals of a minute', async () => {
    const { fixes, warnings } = await read(rmc('060000.00', '040326') + gga('060000.00', '4', undefined, '30.123456') + gga('060001.00', '4', undefined, '30.123456'));
    expect(fixes).toHaveLength(2);
    expect(warnings.map((problem) => problem.code)).toEqual(['nmea-precision-low']);
  });

  it('names points by the occupations file and leaves other epochs out', async () => {
    const table = value(await readCsv(await stdinSource('point_id,from_utc,to_utc,pole_length_m\nB,2026-03-04T06:00:03Z,2026-03-04T06:00:03Z,1.8\nA,2026-03-04T06:00:00Z,2026-03-04T06:00:01Z,\n'), DEFAULT_DIALECT));
    const occupations = value(await readOccupations(table));
    const times = ['055959.90', '060000.00', '060001.00', '060002.00', '060003.00', '060004.00'];
    const { fixes, warnings } = await read(rmc('055959.90', '040326') + times.map((time) => gga(time)).join(''), { occupations });
    expect(fixes.map((fix) => [fix.pointId, fix.poleLengthM])).toEqual([['A', null], ['A', null], ['B', 1.8]]);
    expect(warnings).toMatchObject([{ severity: 'note', message: expect.stringMatching(/^3 epochs/) as string }]);
  });

  it('reads every epoch of a real log of a moving antenna: 122 epochs, 18 of them fixed', async (context) => {
    const path = fileURLToPath(new URL('../../../shared/data/nmea-rtk-moving.nmea', import.meta.url));
    if (!existsSync(path)) context.skip('the shared log is absent');
    const source = value(await openSource('-', { cwd: '.', stdin: createReadStream(path, { highWaterMark: 777 }) }));
    const { fixes, rejected, failed } = await readAll(source);
    expect([rejected, failed]).toEqual([[], []]);
    expect(fixes).toHaveLength(122);
    expect(fixes.filter((fix) => fix.solution === 'fixed')).toHaveLength(18);
    expect(fixes.filter((fix) => fix.solution === 'differential')).toHaveLength(104);
    // From the first line of the log, by hand: 41°34.49795459' N, 93°45.03431408' W, 278.161 m − 31.442 m.
    expect(fixes[0]?.epochMs).toBe(Date.UTC(2020, 2, 18, 13, 28, 19, 600));
    expect(fixes[0]?.geodetic.latitudeDeg).toBeCloseTo(41 + 34.49795459 / 60, 12);
    expect(fixes[0]?.geodetic.longitudeDeg).toBeCloseTo(-(93 + 45.03431408 / 60), 12);
    expect(fixes[0]?.geodetic.ellipsoidalHeightM).toBeCloseTo(246.719, 9);
  });
});

describe('readOccupations', () => {
  const HEAD = 'point_id,from_utc,to_utc\n';
  const occupations = async (text: string): Promise<string[]> =>
    codes(await readOccupations(value(await readCsv(await stdinSource(HEAD + text), DEFAULT_DIALECT))));

  it.each([
    ['A,2026-03-04T06:00:00Z,2026-03-04T06:01:00Z\nB,2026-03-04T06:01:00Z,2026-03-04T06:02:00Z\n', ['value-out-of-range']],
    ['A,2026-03-04T06:01:00Z,2026-03-04T06:00:00Z\n', ['value-out-of-range']],
    ['A,2026-03-04T06:00:00Z,\n', ['value-missing']],
    ['A,2026-03-04T06:00:00,2026-03-04T06:01:00Z\n', ['time-without-zone']],
    ['A,2026-03-04T06:00:00Z\n', ['csv-row-length']],
  ])('refuses %j', async (text, expected) => {
    expect(await occupations(text)).toEqual(expected);
  });
});

describe('createNmeaClock', () => {
  it('holds items until a date is known and gives them in order', () => {
    const clock = createNmeaClock<string>();
    clock.add(86_399_000, 'a');
    clock.add(1000, 'b');
    expect(clock.take()).toEqual([]);
    expect(clock.waiting()).toBe(2);
    clock.setDate(2000, Date.UTC(2026, 0, 1));
    expect(clock.take()).toEqual([{ item: 'a', ms: Date.UTC(2025, 11, 31, 23, 59, 59) }, { item: 'b', ms: Date.UTC(2026, 0, 1, 0, 0, 1) }]);
    expect(clock.take()).toEqual([]);
  });
});
