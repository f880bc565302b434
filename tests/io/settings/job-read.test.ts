import { describe, expect, it } from 'vitest';
import { readJob } from '../../../src/io/settings/job-read.js';
import { readSessionPart, sessionOfParts } from '../../../src/io/settings/session-read.js';
import { placedPart } from '../../../src/io/settings/placed-part.js';

const JOB = `version = 1
title = "Three days"
[shared]
session = "common.toml"
[shared.rover]
pole_length_m = 2.0
[[day]]
id = "mon"
date = 2026-05-11
fixes = ["a.csv", "b.csv"]
[day.rover]
pole_length_m = 1.8
[[day]]
id = "tue"
fixes = ["c.csv"]
session = "tue.toml"
[[exclude]]
point = "P041"
day = "mon"
occupation = "2"
reason = "pole slipped"
[[rename]]
from = "P099"
to = "P100"
reason = "typed wrongly"
[files]
control = "control.csv"
`;

function codesOf(text: string): readonly string[] {
  const read = readJob(text, 'job.toml');
  return read.ok ? [] : read.problems.map(({ code, where }) => `${code} ${String(where?.line)}`);
}

describe('readJob', () => {
  it('gives days, edits and files, each edit with its line', () => {
    const read = readJob(JOB, 'job.toml');
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    const { days, exclusions, renames, files, title, shared } = read.value;
    expect(days.map(({ id, date, fixes, sessionFile }) => ({ id, date, fixes, sessionFile }))).toEqual([
      { id: 'mon', date: '2026-05-11', fixes: ['a.csv', 'b.csv'], sessionFile: null },
      { id: 'tue', date: null, fixes: ['c.csv'], sessionFile: 'tue.toml' },
    ]);
    expect(exclusions).toEqual([
      { point: 'P041', day: 'mon', occupation: '2', reason: 'pole slipped', path: 'exclude[0]', line: 17 },
    ]);
    expect(renames).toEqual([
      { from: 'P099', to: 'P100', day: null, reason: 'typed wrongly', path: 'rename[0]', line: 22 },
    ]);
    expect(files).toEqual({ control: 'control.csv', design: null, limits: null });
    expect([title, shared?.sessionFile]).toEqual(['Three days', 'common.toml']);
    expect(days[0]?.part.given).toContain('rover.pole_length_m');
  });

  it.each([
    ['a day named twice', JOB.replace('id = "tue"', 'id = "mon"'), ['config-invalid-value 14']],
    ['a name that separates names', JOB.replace('id = "tue"', 'id = "tue/1"'), ['config-invalid-value 14']],
    ['an exclusion of a day that is not there', JOB.replace('day = "mon"', 'day = "sun"'), ['config-invalid-value 19']],
    ['a name that becomes itself', JOB.replace('to = "P100"', 'to = "P099"'), ['config-invalid-value 24']],
    [
      'a name renamed twice',
      `${JOB}[[rename]]\nfrom = "P099"\nto = "P7"\nday = "mon"\nreason = "x"\n`,
      ['config-invalid-value 29'],
    ],
    ['an edit without a reason', JOB.replace('reason = "pole slipped"\n', ''), ['config-missing 17']],
    ['a day without fixes', JOB.replace('fixes = ["c.csv"]\n', ''), ['config-missing 13']],
    ['no fixes in the list', JOB.replace('fixes = ["c.csv"]', 'fixes = []'), ['config-invalid-value 15']],
    ['a day that the calendar has not', JOB.replace('2026-05-11', '"2026-02-30"'), ['config-invalid-value 9']],
    ['another version', JOB.replace('version = 1', 'version = 2'), ['config-version 1']],
  ])('refuses %s', (_, text, codes) => {
    expect(codesOf(text)).toEqual(codes);
  });

  it('exchanges two names', () => {
    expect(codesOf(`${JOB}[[rename]]\nfrom = "P100"\nto = "P099"\nreason = "exchanged"\n`)).toEqual([]);
  });
});

describe('sessionOfParts', () => {
  const part = (text: string): Parameters<typeof sessionOfParts>[0][0] => {
    const read = readSessionPart(`version = 1\n${text}`, 's.toml');
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    return read.value;
  };
  const base = (id: string, heightM: number): string =>
    `[[base]]\nid = "${id}"\nantenna_height_m = ${String(heightM)}\nbroadcast = { latitude_deg = -31.5, longitude_deg = 21.4, ellipsoidal_height_m = 1000.0, at = "mark" }\n`;

  it('lets the first part that gives a setting say it, key by key', () => {
    const day = part('[rover]\npole_length_m = 1.8\n[columns]\npoint_id = "Pt"\n');
    const shared = part(
      '[rover]\npole_length_m = 2.0\nplumb_sigma_deg = 0.3\n[columns]\npoint_id = "Name"\nbase_id = "Ref"\n[tolerance]\nhorizontal_m = 0.05\n',
    );
    const session = sessionOfParts([day, shared]);
    expect(session).toMatchObject({
      ok: true,
      value: {
        rover: { poleLengthM: 1.8, plumbSigmaDeg: 0.3 },
        columns: { point_id: 'Pt', base_id: 'Ref' },
        tolerance: { horizontalM: 0.05, verticalM: null },
      },
    });
  });

  it('puts the bases of a day in place of those that have their id, and keeps the others', () => {
    const session = sessionOfParts([part(base('B1', 1.7)), part(base('B1', 1.6) + base('B2', 1.5))]);
    expect(session.ok && session.value.bases.map(({ id, antennaHeight }) => [id, antennaHeight])).toEqual([
      ['B1', { kind: 'vertical', heightM: 1.7 }],
      ['B2', { kind: 'vertical', heightM: 1.5 }],
    ]);
  });

  it('keeps the paths of a part in its own folder', () => {
    const own = part('[height]\ngeoid = "n.gtx"\n[system]\ngrid = "EPSG:2049"\nshift = "EPSG:1504"\n');
    const placed = sessionOfParts([placedPart(own, 'days')]);
    expect(placed).toMatchObject({
      ok: true,
      value: { height: { geoid: 'days/n.gtx' }, system: { grid: 'EPSG:2049', shift: 'EPSG:1504' } },
    });
    const built = sessionOfParts([placedPart(part('[height]\ngeoid = "egm96"\n'), 'days')]);
    expect(built).toMatchObject({ ok: true, value: { height: { geoid: 'egm96' } } });
  });
});
