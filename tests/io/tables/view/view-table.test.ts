import { Buffer } from 'node:buffer';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createCsvWriter } from '../../../../src/io/csv/csv-write.js';
import type { AskedView } from '../../../../src/io/tables/view/asked-view.js';
import { compareNaturally } from '../../../../src/core/numeric/text/compare-naturally.js';
import { peopleDecimals } from '../../../../src/io/tables/view/people-decimals.js';
import { viewTable } from '../../../../src/io/tables/view/view-table.js';
import type { WrittenTable } from '../../../../src/io/tables/view/view-table.js';

const NOTHING: AskedView = { select: [], decimals: new Map(), sort: [], isForPeople: false };

/** The table as shown, handed on in pieces of a few bytes. */
async function viewed(
  text: string,
  asked: Partial<AskedView>,
  table: Partial<WrittenTable> = {},
  pieceBytes = 7,
): Promise<{ readonly text: string; readonly problem: string | null }> {
  const view = viewTable({ ...NOTHING, ...asked }, { format: 'csv', keepsHeader: true, ...table });
  const bytes = Buffer.from(text, 'utf8');
  async function* chunks(): AsyncGenerator<Buffer> {
    for (let at = 0; at < bytes.length; at += pieceBytes)
      yield await Promise.resolve(bytes.subarray(at, at + pieceBytes));
  }
  let shown = '';
  for await (const piece of view.change(chunks())) shown += piece.toString('utf8');
  return { text: shown, problem: view.problem()?.message ?? null };
}

const TABLE = `point_id,code,easting_m,northing_m,circle_95_m,note
P10,"a, b",100.1254,7.0049,0.0300,é
P2,"say ""x""",-5.0500,8.0000,0.1500,
P2,,20.0000,9.0000,,last
`;

describe('viewTable of CSV', () => {
  it('chooses columns in the order asked for and keeps every cell as it is written', async () => {
    const { text } = await viewed(TABLE, { select: ['code', 'point_id'] });
    expect(text).toBe('code,point_id\n"a, b",P10\n"say ""x""",P2\n,P2\n');
  });

  it('cuts decimals by a rounding of halves away from zero, and leaves empty cells empty', async () => {
    const { text } = await viewed(TABLE, {
      select: ['easting_m', 'circle_95_m'],
      decimals: new Map([
        ['easting_m', 1],
        ['circle_95_m', 2],
      ]),
    });
    expect(text).toBe('easting_m,circle_95_m\n100.1,0.03\n-5.1,0.15\n20.0,\n');
  });

  it('sorts names as people do, numbers by value, falling where asked, equal ones in their order', async () => {
    expect(
      (await viewed(TABLE, { select: ['point_id', 'note'], sort: [{ name: 'point_id', isDescending: false }] })).text,
    ).toBe('point_id,note\nP2,\nP2,last\nP10,é\n');
    const falling = await viewed(TABLE, { select: ['easting_m'], sort: [{ name: 'easting_m', isDescending: true }] });
    expect(falling.text).toBe('easting_m\n100.1254\n20.0000\n-5.0500\n');
    const empties = await viewed(TABLE, {
      select: ['circle_95_m'],
      sort: [{ name: 'circle_95_m', isDescending: true }],
    });
    expect(empties.text, 'what is not known comes last either way').toBe('circle_95_m\n0.1500\n0.0300\n\n');
  });

  it('rounds coordinates for people to a tenth of their own uncertainty, row by row', async () => {
    const { text } = await viewed(TABLE, { select: ['point_id', 'easting_m', 'circle_95_m'], isForPeople: true });
    expect(text).toBe('point_id,easting_m,circle_95_m\nP10,100.125,0.030\nP2,-5.05,0.15\nP2,20.0000,\n');
  });

  it('keeps line ends and the byte order mark, and leaves the header out where that is asked for', async () => {
    const crlf = `\uFEFF${TABLE.replaceAll('\n', '\r\n')}`;
    expect((await viewed(crlf, { select: ['point_id'] })).text).toBe('\uFEFFpoint_id\r\nP10\r\nP2\r\nP2\r\n');
    expect((await viewed(TABLE, { select: ['point_id'] }, { keepsHeader: false })).text).toBe('P10\nP2\nP2\n');
  });

  it.each([
    [{ select: ['eastings_m'] }, 'the table has no column eastings_m'],
    [{ decimals: new Map([['easting_m', 5]]) }, 'written with 4 decimals'],
    [{ decimals: new Map([['code', 1]]) }, 'holds a, b, which is no number'],
    [{ sort: [{ name: 'x', isDescending: false }] }, 'the table has no column x'],
  ])('refuses %j', async (asked, message) => {
    expect((await viewed(TABLE, asked)).problem).toContain(message);
  });

  it('refuses --for people where nothing says how uncertain a row is', async () => {
    expect((await viewed('a,b\n1,2\n', { isForPeople: true })).problem).toContain('this table states none');
  });

  it('gives back what it was given where all columns are asked for, whatever cells hold and pieces are', async () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '"', ',', '\n', '0', '.', 'é', ' ') });
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(cell, cell), { maxLength: 6 }),
        fc.integer({ min: 1, max: 9 }),
        async (rows, piece) => {
          const writer = createCsvWriter(['a', 'b']);
          const text = writer.header() + writer.rows(rows);
          expect((await viewed(text, { select: ['a', 'b'] }, {}, piece)).text).toBe(text);
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe('viewTable of JSON', () => {
  const JSON_TABLE = `{"schema":"pegbook-points","version":1,"points":[
{"point_id":"P10","easting_m":100.1250,"reasons":["a","b"],"note":"x, {\\"y\\"}"},
{"point_id":"P2","easting_m":null,"reasons":[],"note":""}
],"summary":{"verdict":"within"}}
`;

  it('chooses, cuts and sorts rows, and leaves head and end alone', async () => {
    const { text } = await viewed(
      JSON_TABLE,
      {
        select: ['note', 'easting_m', 'point_id', 'reasons'],
        decimals: new Map([['easting_m', 2]]),
        sort: [{ name: 'point_id', isDescending: false }],
      },
      { format: 'json' },
    );
    expect(text).toBe(`{"schema":"pegbook-points","version":1,"points":[
{"note":"","easting_m":null,"point_id":"P2","reasons":[]},
{"note":"x, {\\"y\\"}","easting_m":100.13,"point_id":"P10","reasons":["a","b"]}
],"summary":{"verdict":"within"}}
`);
    expect(JSON.parse(text)).toMatchObject({ summary: { verdict: 'within' } });
  });

  it('keeps the geometry of GeoJSON', async () => {
    const row = (id: string): string =>
      `{"type":"Feature","geometry":{"type":"Point","coordinates":[1.5,2.5]},"properties":{"point_id":"${id}","code":"c"}}`;
    const { text } = await viewed(
      `{"type":"FeatureCollection","features":[\n${row('P10')},\n${row('P9')}\n]}\n`,
      { select: ['point_id'], sort: [{ name: 'point_id', isDescending: false }] },
      { format: 'geojson' },
    );
    const { features } = JSON.parse(text) as { features: { geometry: object; properties: object }[] };
    expect(features.map(({ properties }) => properties)).toEqual([{ point_id: 'P9' }, { point_id: 'P10' }]);
    expect(features[0]?.geometry).toEqual({ type: 'Point', coordinates: [1.5, 2.5] });
  });

  it('refuses a document that is no table', async () => {
    const { problem } = await viewed('{\n  "code": "EPSG:2049"\n}\n', { select: ['code'] }, { format: 'json' });
    expect(problem).toContain('no table');
  });

  it('refuses rows that hold objects', async () => {
    const text = '{"points":[\n{"a":1,"shares":{"a":0.5}}\n]}\n';
    expect((await viewed(text, { select: ['a'] }, { format: 'json' })).problem).toContain('no table');
  });

  it('takes rows of JSON one a line', async () => {
    const { text } = await viewed('{"a":"1","b":2}\n{"a":"3","b":4}\n', { select: ['b'] }, { format: 'jsonl' });
    expect(text).toBe('{"b":2}\n{"b":4}\n');
  });
});

describe('compareNaturally', () => {
  it.each([
    [
      ['P10', 'P2', 'P1'],
      ['P1', 'P2', 'P10'],
    ],
    [
      ['7', '007', '08', '6'],
      ['6', '7', '007', '08'],
    ],
    [
      ['B1', 'A10b', 'A10a', 'A9'],
      ['A9', 'A10a', 'A10b', 'B1'],
    ],
  ])('orders %j', (given, expected) => {
    expect([...given].sort(compareNaturally)).toEqual(expected);
  });
});

describe('peopleDecimals', () => {
  // The last digit is a tenth of the uncertainty or less: arithmetic, no source needed.
  it.each([
    [0.03, 3],
    [0.1, 2],
    [0.15, 2],
    [0.0099, 4],
    [2.5, 1],
    [40, 0],
  ])('gives a coordinate known to %d m %d decimals', (circle, decimals) => {
    expect(peopleDecimals((name) => (name === 'circle_95_m' ? String(circle) : null))('easting_m')).toBe(decimals);
  });

  it('takes sigmas where no circle is stated, and gives a degree five decimals more than a metre', () => {
    const of = peopleDecimals((name) => (['sigma_east_m', 'sigma_north_m'].includes(name) ? '0.012' : null));
    expect(of('easting_m')).toBe(3);
    expect(of('latitude_deg')).toBe(8);
    expect(of('orthometric_height_m')).toBeNull();
    expect(of('combined_factor')).toBeNull();
  });
});
