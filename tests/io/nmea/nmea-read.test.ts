import { createReadStream } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../../src/io/csv/csv-read.js';
import { DEFAULT_DIALECT } from '../../../src/io/csv/csv-dialect.js';
import type { RejectedRow } from '../../../src/io/tables/columns/row-loop.js';
import { createNmeaClock } from '../../../src/io/nmea/nmea-clock.js';
import { readNmea } from '../../../src/io/nmea/nmea-read.js';
import type { NmeaReadOptions } from '../../../src/io/nmea/nmea-read.js';
import { createNmeaScanner } from '../../../src/io/nmea/nmea-scan.js';
import { isFault, nmeaAngle, nmeaSentence } from '../../../src/io/nmea/nmea-sentence.js';
import { readOccupations } from '../../../src/io/tables/fixes/occupations-read.js';
import { openSource } from '../../../src/io/bytes/source.js';
import type { Source } from '../../../src/io/bytes/source.js';
import type { Fix } from '../../../src/records/points/fix.js';
import type { Problem } from '../../../src/records/problem.js';
import { codes, stdinSource, value } from '../support.js';

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
  const result = {
    fixes: [] as Fix[],
    rejected: [] as RejectedRow[],
    warnings: [] as Problem[],
    failed: [] as readonly Problem[],
  };
  for await (const block of readNmea(source, {
    sourceIndex: 0,
    occupations: null,
    referencePoint: 'apc',
    talker: null,
    baseIds: [],
    spans: [],
    ...options,
  }).blocks()) {
    if (!block.ok) result.failed = block.problems;
    else {
      result.fixes.push(...block.value.fixes);
      result.rejected.push(...block.value.rejected);
      result.warnings.push(...block.value.warnings);
    }
  }
  return result;
}

/** Bytes of a log, one character each, in chunks of a size. */
async function* inChunks(text: string, size: number): AsyncGenerator<Uint8Array> {
  const bytes = Buffer.from(text, 'latin1');
  for (let at = 0; at < bytes.length; at += size) yield await Promise.resolve(bytes.subarray(at, at + size));
}

const readBytes = async (text: string, options: Partial<NmeaReadOptions> = {}, chunk = 1 << 16): Promise<Result> =>
  readAll(value(await openSource('-', { cwd: '.', stdin: inChunks(text, chunk), anyBytes: true })), options);

const read = async (text: string, options: Partial<NmeaReadOptions> = {}, chunk = 1 << 16): Promise<Result> =>
  readAll(await stdinSource(text, chunk), options);

describe('readNmea', () => {
  it('joins GGA, GST, GSA and RMC of one time into a fix, in chunks of any size', async () => {
    const log =
      rmc('060000.00', '040326') +
      gga('060000.00') +
      sentence('GNGSA,A,3,01,02,,,,,,,,,,,1.4,0.7,1.2,1') +
      sentence('GNGST,060000.00,1.1,,,,0.009,0.008,0.020') +
      sentence('GPGSV,1,1,00') +
      rmc('060001.00', '040326') +
      gga('060001.00', '5');
    for (const chunk of [1, 7, 1000]) {
      const { fixes, rejected, failed } = await read(log, {}, chunk);
      expect([rejected, failed]).toEqual([[], []]);
      expect(fixes).toHaveLength(2);
      expect(fixes[0]).toMatchObject({
        pointId: 'stdin',
        epochMs: Date.UTC(2026, 2, 4, 6),
        referencePoint: 'apc',
        solution: 'fixed',
        satellitesUsed: 18,
        correctionAgeS: 1,
        pdop: 1.4,
        hdop: 0.7,
        vdop: 1.2,
        sigmaNorthM: 0.009,
        sigmaEastM: 0.008,
        sigmaUpM: 0.02,
        poleLengthM: null,
        place: { line: 2 },
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
    expect(nmeaAngle(parsed.field(2), parsed.field(3), 'latitude')).toMatchObject({
      degrees: expect.closeTo(48.1173, 9) as number,
    });
    expect(nmeaAngle(parsed.field(4), parsed.field(5), 'longitude')).toMatchObject({
      degrees: expect.closeTo(11.516666667, 9) as number,
    });
    expect((await read(`${text}\r\n`)).rejected[0]?.problems[0]?.code).toBe('nmea-precision');
    const finer =
      sentence('GPGGA,123519,4807.0380000,N,01131.0000000,E,1,08,0.9,545.4,M,46.9,M,,') + rmc('123519', '230394');
    const { fixes } = await read(finer);
    expect(fixes[0]).toMatchObject({
      solution: 'autonomous',
      correctionAgeS: null,
      epochMs: Date.UTC(1994, 2, 23, 12, 35, 19),
    });
    expect(fixes[0]?.geodetic.ellipsoidalHeightM).toBeCloseTo(592.3, 9);
  });

  it('carries the date over midnight, and dates epochs before the first date backwards', async () => {
    const { fixes } = await read(
      gga('235958.00') +
        gga('235959.00') +
        gga('000000.00') +
        rmc('000000.00', '050326') +
        gga('000001.00') +
        gga('235959.50') +
        gga('000000.50'),
    );
    expect(fixes.map((fix) => new Date(fix.epochMs ?? 0).toISOString().slice(0, 21))).toEqual([
      '2026-03-04T23:59:58.0',
      '2026-03-04T23:59:59.0',
      '2026-03-05T00:00:00.0',
      '2026-03-05T00:00:01.0',
      // A clock that steps back over midnight is put on the nearest day too.
      '2026-03-04T23:59:59.5',
      '2026-03-05T00:00:00.5',
    ]);
  });

  it('takes the date from ZDA too, and fails without any', async () => {
    const { fixes } = await read(gga('060000.00') + sentence('GNZDA,060000.00,04,03,2026,00,00'));
    expect(fixes[0]?.epochMs).toBe(Date.UTC(2026, 2, 4, 6));
    expect((await read(gga('060000.00') + rmc('060000.00', '040326', 'V'))).failed).toMatchObject([
      { code: 'nmea-no-date' },
    ]);
  });

  it('leaves epochs without a satellite position out and counts them in a note', async () => {
    const { fixes, rejected, warnings } = await read(
      rmc('060000.00', '040326') +
        gga('060000.00') +
        gga('060001.00', '0') +
        gga('060002.00', '6') +
        gga('060003.00', '3'),
    );
    expect(fixes.map((fix) => fix.solution)).toEqual(['fixed', 'autonomous']);
    expect(rejected).toEqual([]);
    expect(warnings).toMatchObject([{ severity: 'note', message: expect.stringMatching(/^2 epochs/) as string }]);
  });

  it.each([
    ['$GNGGA,060000.00*00\r\n', 'nmea-checksum'],
    ['$GNGGA,060000.00\r\n', 'nmea-syntax'],
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
    const { fixes, warnings } = await read(
      rmc('060000.00', '040326') +
        gga('060000.00', '4', undefined, '30.123456') +
        gga('060001.00', '4', undefined, '30.123456'),
    );
    expect(fixes).toHaveLength(2);
    expect(warnings.map((problem) => problem.code)).toEqual(['nmea-precision-low']);
  });

  it('names points by the occupations file and leaves other epochs out', async () => {
    const table = value(
      await readCsv(
        await stdinSource(
          'point_id,from_utc,to_utc,pole_length_m\nB,2026-03-04T06:00:03Z,2026-03-04T06:00:03Z,1.8\nA,2026-03-04T06:00:00Z,2026-03-04T06:00:01Z,\n',
        ),
        DEFAULT_DIALECT,
      ),
    );
    const occupations = value(await readOccupations(table));
    const times = ['055959.90', '060000.00', '060001.00', '060002.00', '060003.00', '060004.00'];
    const { fixes, warnings } = await read(rmc('055959.90', '040326') + times.map((time) => gga(time)).join(''), {
      occupations,
    });
    expect(fixes.map((fix) => [fix.pointId, fix.poleLengthM])).toEqual([
      ['A', null],
      ['A', null],
      ['B', 1.8],
    ]);
    expect(warnings).toMatchObject([{ severity: 'note', message: expect.stringMatching(/^3 epochs/) as string }]);
  });

  const other = (time: string, talker: string): string =>
    sentence(`${talker}GGA,${time},3130.12349999,S,02130.12345678,E,1,07,1.9,1046.25,M,-30.5,M,,`);

  it('refuses two positions of one time that differ, in either order, and reads one talker on request', async () => {
    const start =
      rmc('060000.00', '040326') +
      sentence('GPGST,060000.00,1.1,,,,0.9,0.8,0.7') +
      sentence('GNGST,060000.00,1.1,,,,0.009,0.008,0.020');
    for (const pair of [
      [gga('060000.00'), other('060000.00', 'GP')],
      [other('060000.00', 'GP'), gga('060000.00')],
    ]) {
      const both = await read(start + pair.join('') + gga('060001.00'));
      expect(both.fixes.map(({ epochMs }) => epochMs)).toEqual([Date.UTC(2026, 2, 4, 6, 0, 1)]);
      expect(both.rejected.map(({ line, raw, problems }) => [line, raw, problems[0]?.code])).toEqual([
        [4, (pair[0] ?? '').trim(), 'nmea-two-positions'],
        [5, (pair[1] ?? '').trim(), 'nmea-two-positions'],
      ]);
      expect(both.rejected[0]?.problems[0]?.hint).toContain('--talker GN');
      const one = await read(start + pair.join('') + gga('060001.00'), { talker: 'GN' });
      expect(one.rejected).toEqual([]);
      expect(one.fixes.map(({ solution, sigmaUpM, sigmaEastM }) => [solution, sigmaUpM, sigmaEastM])).toEqual([
        ['fixed', 0.02, 0.008],
        ['fixed', null, null],
      ]);
      expect(one.warnings).toMatchObject([
        {
          code: 'nmea-epochs-left-out',
          message: '1 position is of another talker than --talker names and is left out',
        },
      ]);
    }
  });

  it('counts a position once that stands twice, whoever says it, and takes the one of two sentences that has a position', async () => {
    const twice = await read(
      rmc('060000.00', '040326') +
        gga('060000.00') +
        gga('060000.00') +
        sentence(gga('060000.00').slice(1, -5).replace('GN', 'GP')),
    );
    expect([twice.fixes.length, twice.rejected]).toEqual([1, []]);
    expect(twice.warnings).toMatchObject([
      { code: 'nmea-epochs-left-out', severity: 'note', message: expect.stringMatching(/^2 positions say/) as string },
    ]);
    for (const order of [
      [gga('060000.00'), gga('060000.00', '0')],
      [gga('060000.00', '0'), gga('060000.00')],
    ]) {
      const { fixes, warnings } = await read(rmc('060000.00', '040326') + order.join(''));
      expect([fixes.length, warnings]).toEqual([1, []]);
    }
  });

  it("takes the larger of what several talkers say of sigmas and dilution where none is the position's own, in any order", async () => {
    const said = [
      sentence('GPGST,060000.00,1.1,,,,0.009,0.008,0.050'),
      sentence('GLGST,060000.00,1.1,,,,0.012,0.007,0.020'),
      sentence('GPGSA,A,3,01,02,,,,,,,,,,,1.4,0.7,1.9'),
      sentence('GLGSA,A,3,65,66,,,,,,,,,,,2.4,0.7,1.2'),
    ];
    for (const order of [said, [...said].reverse()]) {
      const { fixes } = await read(rmc('060000.00', '040326') + gga('060000.00') + order.join(''));
      expect(fixes).toMatchObject([{ sigmaNorthM: 0.012, sigmaEastM: 0.008, sigmaUpM: 0.05, pdop: 2.4, vdop: 1.9 }]);
    }
  });

  it('joins the station of the corrections with a base of the session, by number, and says once which are none', async () => {
    const at = (time: string, station: string, quality = '4'): string => gga(time, quality, `M,-30.5,M,1.0,${station}`);
    const log =
      rmc('060000.00', '040326') +
      at('060000.00', '0133') +
      at('060001.00', '133') +
      at('060002.00', '0007') +
      at('060003.00', '') +
      at('060004.00', '0133', '2') +
      at('060005.00', '0133', '1');
    const joined = await read(log, { baseIds: ['B1', '0133', 'B1'] });
    expect(joined.fixes.map(({ stationId, baseId }) => [stationId ?? null, baseId])).toEqual([
      ['0133', '0133'],
      ['133', '0133'],
      ['0007', null],
      [null, null],
      [null, null],
      [null, null],
    ]);
    expect(joined.warnings).toMatchObject([
      {
        code: 'nmea-station-unknown',
        severity: 'warning',
        message:
          'the corrections came from station 0007 (1 epoch), and no base of the session has this number: B1, 0133',
      },
    ]);
    expect((await read(log, { baseIds: ['133', '0133', '7'] })).fixes.map(({ baseId }) => baseId)).toEqual([
      '0133',
      '133',
      '7',
      null,
      null,
      null,
    ]);
    expect((await read(log)).warnings).toEqual([]);
  });

  it('names the rollover of a week number, by what no receiver says and by the dates of the session, and keeps the dates', async () => {
    const dated = async (date: string, spans: NmeaReadOptions['spans'] = []): Promise<string> => {
      const { warnings, fixes } = await read(rmc('060000.00', date) + gga('060000.00') + gga('060001.00'), { spans });
      expect(fixes).toHaveLength(2);
      return warnings
        .map(
          ({ code, message, where }) =>
            `${code}:${where?.line ?? 0}: ${/\d+ epochs? (?:is|are) dated from (\S+) .*the date is (\S+)/.exec(message)?.slice(1, 3).join(' ') ?? message}`,
        )
        .join();
    };
    // 1024 weeks are 7168 days: 2019-04-07 less that is 1999-08-22, 2026-03-04 is 2006-07-19 (by the calendar of another program).
    expect(await dated('220899')).toBe('nmea-week-rollover:2: 1999-08-22T06:00:00Z 2019-04-07T06:00:00Z');
    expect(await dated('060180')).toBe('nmea-week-rollover:2: 1980-01-06T06:00:00Z 2019-04-07T06:00:00Z');
    expect(await dated('190706')).toBe('');
    expect(await dated('040326')).toBe('');
    const day = [{ fromMs: Date.UTC(2026, 2, 4, 5), toMs: Date.UTC(2026, 2, 4, 12) }];
    expect(await dated('190706', day)).toBe('nmea-week-rollover:2: 2006-07-19T06:00:00Z 2026-03-04T06:00:00Z');
    expect(await dated('190706', [{ fromMs: Date.UTC(2006, 6, 19), toMs: Date.UTC(2006, 6, 20) }, ...day])).toBe('');
    expect(await dated('190706', [{ fromMs: Date.UTC(2026, 0, 1), toMs: null }])).toBe('');
  });

  it('reads a log with binary frames and tag blocks between the sentences, in chunks of any size, and says what it passed over', async () => {
    const frame = '\xd3\x00\x13>\xd0\x00$GNGGA\n\x80\xff\xfe$\r\n\\$!\x00\xa0\x1a';
    const tag = (body: string): string => sentence(body).replace('$', '\\').trim() + '\\';
    const log = `${frame}${rmc('060000.00', '040326')}${frame}${gga('060000.00').trim()}${frame}${tag('s:r01,c:1772604001')}${gga('060001.00')}\\s:bad*00\\${gga('060002.00')}hello\r\n${gga('060003.00').replace('$', 'xx$')}${frame}`;
    const whole = await readBytes(log);
    for (const chunk of [1, 7, 64, 1000]) expect(await readBytes(log, {}, chunk), String(chunk)).toEqual(whole);
    expect([whole.rejected, whole.failed]).toEqual([[], []]);
    expect(whole.fixes.map(({ epochMs }) => ((epochMs ?? 0) / 1000) % 60)).toEqual([0, 1, 2, 3]);
    // Four frames of 27 bytes, "\s:bad*00\" of 10, and "hello", its line end and "xx" together of 9.
    expect(whole.warnings.map(({ code, severity, message, where }) => [code, severity, message, where?.line])).toEqual([
      [
        'nmea-skipped',
        'note',
        `${4 * frame.length + 10 + 9} bytes in 6 places are no NMEA 0183 sentence and were passed over, the first here`,
        1,
      ],
      ['nmea-skipped', 'note', '1 tag block before sentences were passed over', undefined],
    ]);
  });

  it('reads the same fixes when any bytes are put between the sentences, and nothing out of bytes alone', async () => {
    const lines = [
      rmc('060000.00', '040326'),
      gga('060000.00'),
      gga('060001.00'),
      sentence('GNGST,060001.00,1.1,,,,0.009,0.008,0.020'),
      gga('060002.00'),
    ];
    const plain = (await readBytes(lines.join(''))).fixes.map((fix) => ({ ...fix, place: null }));
    const junk = fc.oneof(
      fc.uint8Array({ maxLength: 80 }).map((bytes) => Buffer.from(bytes).toString('latin1')),
      fc.string({ unit: fc.constantFrom('$', '!', '\\', '*', ',', 'G', 'N', 'A', '0', '\n', '\xff'), maxLength: 60 }),
    );
    await fc.assert(
      fc.asyncProperty(
        fc.array(junk, { minLength: 5, maxLength: 5 }),
        fc.integer({ min: 1, max: 200 }),
        async (between, chunk) => {
          const mixed = await readBytes(
            lines.map((line, index) => `${between[index] ?? ''}\r\n${line}`).join(''),
            {},
            chunk,
          );
          expect(mixed.fixes.map((fix) => ({ ...fix, place: null }))).toEqual(plain);
          expect((await readBytes(between.join(''), {}, chunk)).fixes).toEqual([]);
        },
      ),
      { numRuns: 300, seed: 20261128 },
    );
  });

  it('keeps no more of an endless line than a sentence may be long', async () => {
    const megabyte = 'G,'.repeat(1 << 19);
    const before = process.memoryUsage().heapUsed;
    const scanner = createNmeaScanner();
    let most = 0;
    for (let count = 0; count < 64; count += 1) {
      scanner.push(`$GNGGA,${megabyte}`);
      most = Math.max(most, process.memoryUsage().heapUsed - before);
    }
    expect(scanner.push(gga('060000.00'))).toHaveLength(1);
    expect(most).toBeLessThan(48 << 20);
    expect(scanner.rest().bytes).toBeGreaterThan(63 << 20);
  });

  it('refuses a file without any sentence, and a zero byte in it is no matter', async () => {
    expect((await readBytes('point_id,latitude_deg\nA,1\n')).failed).toMatchObject([{ code: 'nmea-no-sentence' }]);
    expect((await readBytes('\0\0')).failed).toMatchObject([{ code: 'nmea-no-sentence' }]);
    expect((await readBytes('')).failed).toEqual([]);
  });

  // The log of tests/data/README.md.
  it('reads every epoch of a real log of a moving antenna: 36 epochs, 18 of them fixed', async () => {
    const path = fileURLToPath(new URL('../../data/moving-antenna.nmea', import.meta.url));
    const source = value(
      await openSource('-', { cwd: '.', stdin: createReadStream(path, { highWaterMark: 777 }), anyBytes: true }),
    );
    const { fixes, rejected, failed, warnings } = await readAll(source, { baseIds: ['2'] });
    expect([rejected, failed, warnings]).toEqual([[], [], []]);
    expect(fixes).toHaveLength(36);
    expect(fixes.filter((fix) => fix.solution === 'fixed')).toHaveLength(18);
    expect(fixes.filter((fix) => fix.solution === 'differential')).toHaveLength(18);
    // Station 0133 of the differential ones is an augmentation satellite, 0002 of the fixed ones a base.
    expect(
      fixes
        .map(({ solution, stationId, baseId }) => `${solution ?? ''} ${stationId ?? '-'} ${baseId ?? '-'}`)
        .filter((text, index, all) => text !== all[index - 1]),
    ).toEqual(['differential - -', 'fixed 0002 2']);
    // From the first line of the log, by hand: 41°34.49795459' N, 93°45.03431408' W, 278.161 m − 31.442 m.
    expect(fixes[0]?.epochMs).toBe(Date.UTC(2020, 2, 18, 13, 28, 19, 600));
    expect(fixes[0]?.geodetic.latitudeDeg).toBeCloseTo(41 + 34.49795459 / 60, 12);
    expect(fixes[0]?.geodetic.longitudeDeg).toBeCloseTo(-(93 + 45.03431408 / 60), 12);
    expect(fixes[0]?.geodetic.ellipsoidalHeightM).toBeCloseTo(246.719, 9);
    expect(fixes[0]?.separationM).toBe(-31.442);
  });
});

describe('readOccupations', () => {
  const HEAD = 'point_id,from_utc,to_utc\n';
  const occupations = async (text: string): Promise<string[]> =>
    codes(await readOccupations(value(await readCsv(await stdinSource(HEAD + text), DEFAULT_DIALECT))));

  it.each([
    [
      'A,2026-03-04T06:00:00Z,2026-03-04T06:01:00Z\nB,2026-03-04T06:01:00Z,2026-03-04T06:02:00Z\n',
      ['value-out-of-range'],
    ],
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
    expect(clock.take()).toEqual([
      { item: 'a', ms: Date.UTC(2025, 11, 31, 23, 59, 59) },
      { item: 'b', ms: Date.UTC(2026, 0, 1, 0, 0, 1) },
    ]);
    expect(clock.take()).toEqual([]);
  });
});
