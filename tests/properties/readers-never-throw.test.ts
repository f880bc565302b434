import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gtxBytes, isgBytes, ntv2Bytes, tiffGridBytes } from '../../tools/fuzz/small-grids.mjs';
import { parseProjString } from '../../src/core/projection/definition/parse-proj-string.js';
import { readGeojsonTable } from '../../src/io/geojson/geojson-table.js';
import { readGeotiffGrid } from '../../src/io/grids/tiff/geotiff-grid-read.js';
import { readGtx } from '../../src/io/grids/gtx-read.js';
import { readIsg } from '../../src/io/grids/isg/isg-read.js';
import { readLimits } from '../../src/io/settings/limits-read.js';
import { nmeaSentence } from '../../src/io/nmea/nmea-sentence.js';
import { readNtv2 } from '../../src/io/grids/ntv2-read.js';
import { readSession } from '../../src/io/settings/session-read.js';
import { readShift } from '../../src/io/settings/shift-read.js';
import { readSite } from '../../src/io/documents/site/site-read.js';
import { loadSystemDefinition } from '../../src/io/host/system-registry.js';
import type { Outcome } from '../../src/records/outcome.js';
import { PROBLEM_CODES } from '../../src/records/codes/problem-codes.js';

const SEED = { seed: 20261125 };
const anyText = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 60 }),
  fc.string({
    unit: fc.constantFrom(
      '[',
      ']',
      '{',
      '}',
      '"',
      "'",
      '=',
      '.',
      ',',
      '\n',
      ' ',
      'a',
      'b',
      '1',
      '-',
      '#',
      '+',
      ':',
      '_',
    ),
    maxLength: 60,
  }),
);

/** A value, or problems of the table of codes; never both, never neither. */
function isOutcome(outcome: Outcome<unknown>): void {
  if (!outcome.ok) expect(outcome.problems).not.toHaveLength(0);
  for (const { code } of outcome.problems) expect(Object.keys(PROBLEM_CODES)).toContain(code);
}

describe('any text is read, or refused with a problem', () => {
  it.each<readonly [string, (text: string) => Outcome<unknown>]>([
    ['a session', (text) => readSession(text, 's.toml')],
    ['a shift', (text) => readShift(text, 's.toml')],
    ['limits', (text) => readLimits(text, 'l.toml')],
    ['a site', (text) => readSite(text, 's.json')],
    ['GeoJSON', (text) => readGeojsonTable(text, 'a.geojson')],
    ['an ISG grid', (text) => readIsg(Buffer.from(text))],
    ['a system', (text) => loadSystemDefinition(text)],
    ['a PROJ string', (text) => parseProjString(text)],
  ])('as %s', (_, read) => {
    fc.assert(
      fc.property(anyText, (text) => isOutcome(read(text))),
      { numRuns: 1500, ...SEED },
    );
  });

  it('as a session with keys in any of its places', () => {
    const key = fc.constantFrom(
      'version',
      'system',
      'grid',
      'base',
      'known',
      '__proto__',
      'constructor',
      'toString',
      'columns',
      '"a.b"',
      'x',
    );
    const held = fc.constantFrom(
      '1',
      '"a"',
      '[]',
      '{}',
      '[{}]',
      '1e400',
      'nan',
      'true',
      '2026-03-04T06:00:00Z',
      '07:00:00',
      '{ __proto__ = 1 }',
      '[[1]]',
    );
    const line = fc.oneof(
      fc.tuple(key, held).map(([k, v]) => `${k} = ${v}`),
      key.map((k) => `[${k}]`),
      key.map((k) => `[[${k}]]`),
      fc.tuple(key, key).map(([a, b]) => `[${a}.${b}]`),
    );
    fc.assert(
      fc.property(fc.array(line, { maxLength: 8 }), (lines) => isOutcome(readSession(lines.join('\n'), 's.toml'))),
      { numRuns: 3000, ...SEED },
    );
  });

  it('as a PROJ string of known words with any values', () => {
    const word = fc.constantFrom(
      'proj',
      'ellps',
      'datum',
      'units',
      'lat_0',
      'lon_0',
      'k_0',
      'x_0',
      'axis',
      'a',
      'rf',
      'zone',
      'south',
      'towgs84',
      'pm',
      'lat_1',
      '__proto__',
      'constructor',
      'no_defs',
    );
    const held = fc.oneof(
      fc.constantFrom(
        'tmerc',
        'utm',
        'longlat',
        'WGS84',
        'wsu',
        '__proto__',
        'toString',
        'm',
        'us-ft',
        '1e308',
        '-1',
        '0',
        '90',
        '1,2,3',
        '',
      ),
      fc.double().map(String),
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(word, held), { maxLength: 8 }), (parts) =>
        isOutcome(parseProjString(parts.map(([w, v]) => `+${w}=${v}`).join(' '))),
      ),
      { numRuns: 5000, ...SEED },
    );
  });

  it('as a sentence of a log', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          anyText,
          fc.string({ unit: fc.constantFrom('$', 'G', 'N', 'A', ',', '*', '4', '7', '.'), maxLength: 40 }),
        ),
        (text) => {
          expect(typeof nmeaSentence(text)).toBe('object');
        },
      ),
      { numRuns: 5000, ...SEED },
    );
  });
});

describe('any bytes are read, or refused with a problem', () => {
  const damaged = (whole: Uint8Array): fc.Arbitrary<Uint8Array> =>
    fc
      .array(fc.tuple(fc.nat(Math.min(whole.length, 500) - 1), fc.nat(255)), { minLength: 1, maxLength: 4 })
      .map((changes) => {
        const bytes = Uint8Array.from(whole);
        for (const [at, byte] of changes) bytes[at] = byte;
        return bytes;
      });
  it.each<readonly [string, Uint8Array, (bytes: Uint8Array) => Outcome<unknown> | Promise<Outcome<unknown>>]>([
    ['a GTX grid', gtxBytes(), readGtx],
    ['a TIFF grid', tiffGridBytes(false), readGeotiffGrid],
    ['a deflated TIFF grid', tiffGridBytes(true), readGeotiffGrid],
    ['an NTv2 grid', ntv2Bytes(), (bytes) => readNtv2(bytes)],
    ['an ISG grid', isgBytes(), readIsg],
  ])('as %s', async (_, whole, read) => {
    expect((await read(Uint8Array.from(whole))).ok, 'the sound file').toBe(true);
    const bytes = fc.oneof(
      fc.uint8Array({ maxLength: 400 }),
      damaged(whole),
      fc.nat(whole.length).map((length) => whole.slice(0, length)),
    );
    await fc.assert(
      fc.asyncProperty(bytes, async (content) => isOutcome(await read(content))),
      { numRuns: 600, ...SEED },
    );
  });
});
