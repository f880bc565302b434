import { describe, expect, it } from 'vitest';
import { readToml } from '../../../src/io/settings/toml/toml-table.js';
import { settingsIn } from '../../../src/io/settings/settings-in.js';
import { defaultSession, readSession } from '../../../src/io/settings/session-read.js';
import type { BasePlace, RoverSettings, Session } from '../../../src/records/session.js';
import * as baseFields from '../../../src/records/settings/base-fields.js';
import * as limitFields from '../../../src/records/settings/limit-fields.js';
import * as sessionFields from '../../../src/records/settings/session-fields.js';
import * as shiftFields from '../../../src/records/settings/shift-fields.js';
import type { TomlField } from '../../../src/io/settings/toml/toml-schema.js';
import { valueOf } from '../../support/shift-of-row.js';

const FIELDS = {
  pole_sigma_m: { kind: 'number', minimum: 0, maximum: 1, meaning: 'one', default: 0.001 },
  tilt_azimuth: { kind: 'text', choices: ['top-from-tip', 'tip-from-top'], meaning: 'two' },
  solution: { kind: 'words', choices: ['fixed', 'float'], meaning: 'three', default: ['fixed'] },
} as const;

/** Some value that a field accepts, as a file has it. */
const anyOf = (field: TomlField): string =>
  field.kind === 'number' ? '1' : JSON.stringify('choices' in field ? (field.choices?.[0] ?? 'x') : 'x');
const fields = { ...sessionFields, ...baseFields, ...limitFields, ...shiftFields };

describe('settings by a table of fields', () => {
  const read = (text: string): unknown =>
    settingsIn(valueOf(readToml(text, 's.toml', { named: FIELDS })).table, FIELDS);

  it('hold what is given, else the default, else null, under the names of the program', () => {
    expect(read('')).toEqual({ poleSigmaM: 0.001, tiltAzimuth: null, solution: ['fixed'] });
    expect(read('pole_sigma_m = 0\ntilt_azimuth = "tip-from-top"\nsolution = ["float"]\n')).toEqual({
      poleSigmaM: 0,
      tiltAzimuth: 'tip-from-top',
      solution: ['float'],
    });
  });

  it('have defaults that the fields themselves would accept', () => {
    for (const [table, named] of Object.entries<Readonly<Record<string, TomlField>>>(fields))
      for (const [name, field] of Object.entries(named)) {
        if (field.default === undefined) continue;
        const given = `${name} = ${JSON.stringify(field.default)}\n`;
        const needed = Object.entries(named).filter(([other, { isRequired }]) => isRequired === true && other !== name);
        const rest = needed.map(([other, field]) => `${other} = ${anyOf(field)}\n`).join('');
        expect(readToml(given + rest, `${table}.toml`, { named }).ok, `${table} ${name}`).toBe(true);
      }
  });

  it('never have both a default and words for what happens without one', () => {
    for (const named of Object.values<Readonly<Record<string, TomlField>>>(fields))
      for (const [name, field] of Object.entries(named))
        expect(field.default === undefined || field.byDefault === undefined, name).toBe(true);
  });

  // Compiled with the rest: a line that no longer fails to compile is an error itself.
  it('do not compile where a name is misspelt, a word is none of the choices, or null is passed over', () => {
    const session: Session = defaultSession();
    const { rover } = session;
    // @ts-expect-error -- the setting is poleSigmaM
    expect(rover.poleSigmM).toBeUndefined();
    // @ts-expect-error -- no pole length is the default of none
    const lengthM: number = rover.poleLengthM;
    expect(lengthM).toBeNull();
    // @ts-expect-error -- a position is of the tip, not of the ground
    const place: RoverSettings['referencePoint'] = 'ground';
    expect(place).toBe('ground');
    const at: BasePlace = 'mark';
    // @ts-expect-error -- a coordinate is of a mark, and not of the ground
    const ground: BasePlace = 'ground';
    expect(ground).not.toBe(at);
    const gapS: number = session.acceptance.occupationGapS;
    expect(gapS).toBe(60);
  });

  it('of a base are those of its tables, times in milliseconds', () => {
    const base =
      '[[base]]\nid = "B"\nfrom_utc = 1970-01-01T00:00:01Z\nbroadcast = { x_m = 1, y_m = 2, z_m = 3, at = "arp" }\n';
    const [read] = valueOf(readSession(`version = 1\n${base}`, 's.toml')).bases;
    expect(read).toEqual({
      id: 'B',
      fromMs: 1000,
      toMs: null,
      broadcast: { kind: 'geocentric', at: 'arp', xM: 1, yM: 2, zM: 3 },
      known: null,
      antennaHeight: null,
      phaseCentreOffsetM: 0,
      sigmaHorizontalM: null,
      sigmaVerticalM: null,
      antennaHeightSigmaM: null,
      centringSigmaM: null,
    });
  });

  it('are those of a session file', () => {
    const session = valueOf(readSession('version = 1\n[rover]\npole_sigma_m = 0.002\n', 's.toml'));
    expect(session.rover).toEqual({ ...defaultSession().rover, poleSigmaM: 0.002 });
  });
});
