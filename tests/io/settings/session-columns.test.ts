import { describe, expect, it } from 'vitest';
import { readColumnOption } from '../../../src/io/settings/session-columns.js';
import { readSession } from '../../../src/io/settings/session-read.js';
import { readingText } from '../../../src/records/settings/column-reading.js';
import { codes, value } from '../support.js';

const read = (text: string): ReturnType<typeof readSession> => readSession(`version = 1\n${text}`, 's.toml');

describe('[columns] of a session', () => {
  it('holds headers, positions and what cells are written in', () => {
    const { columns } = value(
      read(`[columns]
point_id = 3
base_id = { header = "Base" }
ellipsoidal_height_m = { header = "H", unit = "ft" }
solution = { header = "Q", words = { "RTK Fixed" = "fixed" } }
epoch_utc = { header = ["Date", "Time"], form = "YYYY-MM-DD HH:mm:ss", scale = "gps", leap_seconds = 18 }`),
    );
    expect({ ...columns }).toEqual({
      point_id: '3',
      base_id: 'Base',
      ellipsoidal_height_m: { headers: ['H'], unit: 'ft' },
      solution: { headers: ['Q'], words: { 'RTK Fixed': 'fixed' } },
      epoch_utc: { headers: ['Date', 'Time'], form: 'YYYY-MM-DD HH:mm:ss', scale: 'gps', leapSeconds: 18 },
    });
  });

  it('refuses what no column has, with the line', () => {
    const found = read(
      '[columns]\nx_m = { header = "X", units = "ft" }\ny_m = { unit = "ft" }\nz_m = { header = ["a", "b", "c"] }',
    );
    expect(found.problems.map(({ code, where }) => [code, where?.line])).toEqual([
      ['config-unknown-key', 3],
      ['config-missing', 4],
      ['config-invalid-value', 5],
    ]);
  });

  it('refuses a header that two columns share, also as one of two', () => {
    expect(
      codes(read('[columns]\npdop = "D"\nepoch_utc = { header = ["D", "T"], form = "YYYY-MM-DD HH:mm" }')),
    ).toEqual(['config-invalid-value']);
  });

  it('comes out of the run record as it would be written', () => {
    const said =
      '{ header = ["D", "T"], form = "YYYY-MM-DD HH:mm", scale = "gps", leap_seconds = 18, words = { "a" = "b" } }';
    expect(readingText(value(readColumnOption('epoch_utc', said, '--columns')))).toBe(said);
  });

  it('may stand in an option', () => {
    expect(value(readColumnOption('pdop', 'P{1}', '--columns'))).toBe('P{1}');
    expect(value(readColumnOption('x_m', '{header="X",unit="usft"}', '--columns'))).toEqual({
      headers: ['X'],
      unit: 'usft',
    });
    expect(codes(readColumnOption('x_m', '{header="X",unit="yard"}', '--columns'))).toEqual(['config-invalid-value']);
    expect(codes(readColumnOption('x_m', '{header}', '--columns'))).toEqual(['config-syntax']);
  });
});

describe('a session that still asks', () => {
  it('is refused with every "?" and its line, and nothing else is said', () => {
    const found = read(`[system]
grid = "?"
nonsense = 1
[[base]]
id = "B"
broadcast = { latitude_deg = "?", at = "arp" }
[acceptance]
solution = ["?"]
[columns]
solution = { header = "Q", words = { "WIDE" = "?" } }`);
    expect(found.problems.map(({ code, where }) => [code, where?.line, where?.path])).toEqual([
      ['config-unanswered', 3, 'system.grid'],
      ['config-unanswered', 7, 'base[0].broadcast.latitude_deg'],
      ['config-unanswered', 9, 'acceptance.solution'],
      ['config-unanswered', 11, 'columns.solution.words.WIDE'],
    ]);
  });
});
