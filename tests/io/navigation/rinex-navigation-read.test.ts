import { describe, expect, it } from 'vitest';
import { keplerPlace } from '../../../src/core/sky/kepler-place.js';
import { readNavigation } from '../../../src/io/navigation/navigation-read.js';
import { entryAt } from '../../../src/records/present.js';
import type { NavigationContent } from '../../../src/records/sky/navigation-file.js';
import type { KeplerElements } from '../../../src/records/sky/orbit-elements.js';
import { textOf } from '../../support/repository-files.js';

const REAL = textOf('tests/fixtures/navigation/gps-2024-067.rnx');
const PAIRS = textOf('tests/fixtures/navigation/pairs-2025-214.rnx');
const NEAR = Date.parse('2025-08-02T00:00:00Z');

function read(text: string): NavigationContent {
  const found = readNavigation(text, NEAR);
  if (!found.ok) throw new Error(found.problems[0]?.message);
  return found.value;
}

function codeOf(text: string): string | undefined {
  const found = readNavigation(text, NEAR);
  return found.ok ? undefined : found.problems[0]?.code;
}

const header = (version: string, kind: string): string =>
  `${version.padStart(9).padEnd(20)}${kind.padEnd(40)}RINEX VERSION / TYPE\n${' '.repeat(60)}END OF HEADER\n`;

/** A record of version 3 as version 2 has it: the number alone, a year of two digits, a column less, D in exponents. */
function asVersion2(record: string): string {
  const [first = '', ...more] = record.split('\n');
  const [year = '', month, day, hour, minute, second] = first
    .slice(4, 23)
    .split(' ')
    .map((word) => word.replace(/^0(?=\d)/u, ''));
  const head = [year.slice(2), month, day, hour, minute].map((word) => (word ?? '').padStart(3)).join('');
  const clock = first.slice(23);
  const lines = [
    `${first.slice(1, 3).replace(/^0/u, ' ')}${head}${(second ?? '').padStart(3)}.0${clock}`,
    ...more.map((line) => line.slice(1)),
  ];
  return lines.map((line) => line.replaceAll(/[eE](?=[+-]\d\d)/gu, 'D')).join('\n');
}

/** Records of a file of version 3, each as its lines. */
function recordsOf(text: string): readonly string[] {
  const body = text.slice(text.indexOf('END OF HEADER') + 'END OF HEADER'.length).trimStart();
  return body.trimEnd().split(/\n(?=[A-Z])/u);
}

describe('a RINEX navigation file', () => {
  it('of version 3 gives one record a satellite, with its time on the clock of GPS', () => {
    const { form, elements, faults, skipped } = read(REAL);
    expect(form).toBe('RINEX 3.04');

    const tracked = ['G03', 'G04', 'G06', 'G07', 'G09', 'G11', 'G16', 'G20', 'G26', 'G29', 'G30'];
    expect([...new Set(elements.map(({ satellite }) => satellite))].sort()).toEqual(tracked);
    expect(elements).toHaveLength(12);
    const nearTwo = ({ referenceMs }: { readonly referenceMs: number }): boolean =>
      Math.abs(referenceMs - Date.parse('2024-03-07T02:00:00Z')) < 7_200_001;
    expect(elements.every(nearTwo)).toBe(true);
    expect([faults, [...skipped]]).toEqual([[], []]);
  });

  it('holds every system, each by its own clock', () => {
    const { elements } = read(PAIRS);
    const first = (satellite: string): number =>
      elements.find((one) => one.satellite === satellite)?.referenceMs ?? NaN;
    // Epochs as they stand in the file: BeiDou is 14 s behind GPS, GLONASS 18 s behind it as UTC is.
    expect(first('G02')).toBe(Date.parse('2025-08-02T06:00:00Z'));
    expect(first('E05')).toBe(Date.parse('2025-08-02T14:20:00Z'));
    expect(first('C21')).toBe(Date.parse('2025-08-02T06:00:14Z'));
    expect(first('R03')).toBe(Date.parse('2025-08-01T23:45:18Z'));
    expect(
      elements.filter((one) => one.kind === 'kepler' && one.isGeostationary).map(({ satellite }) => satellite),
    ).toEqual(['C02', 'C02', 'C05', 'C05', 'C60', 'C60']);
  });

  it('of version 2 gives the same elements as the same records of version 3, of GPS and of GLONASS', () => {
    const gps = header('2.11', 'N: GPS NAV DATA') + recordsOf(REAL).map(asVersion2).join('\n');
    expect(read(gps).elements).toEqual(read(REAL).elements);
    const glonass = recordsOf(PAIRS).filter((record) => record.startsWith('R'));
    const old = header('2.10', 'G: GLONASS NAV DATA') + glonass.map(asVersion2).join('\n');
    expect(read(old).elements).toEqual(read(PAIRS).elements.filter(({ system }) => system === 'GLONASS'));
    expect(read(old).elements).toHaveLength(8);
  });

  it('of version 4 gives the same elements, and counts what it does not plan with', () => {
    const message: Readonly<Record<string, string>> = { G: 'LNAV', R: 'FDMA', E: 'INAV', C: 'D1' };
    const marked = recordsOf(PAIRS).map(
      (record) => `> EPH ${record.slice(0, 3)} ${message[record.slice(0, 1)] ?? ''}\n${record}`,
    );
    const ion = '> ION G01 LNAV\n    2025 08 02 00 00 00 1.210700000000e-08 2.235200000000e-08';
    const modern = `> EPH G02 CNAV\n${entryAt(recordsOf(PAIRS), 0)}`;
    const text = header('4.02', 'NAVIGATION DATA     M') + [ion, ...marked, modern, ion].join('\n');
    const { elements, skipped, faults } = read(text);
    expect(elements).toEqual(read(PAIRS).elements);
    expect([...skipped]).toEqual([
      ['ION of version 4', 2],
      ['GPS CNAV', 1],
    ]);
    expect(faults).toEqual([]);
  });

  it('is read with any letter of the exponent, CR LF, and blanks cut off its lines', () => {
    for (const letter of ['D', 'd', 'E', 'e'])
      expect(read(REAL.replaceAll(/[DE](?=[+-]\d\d)/giu, letter)).elements).toEqual(read(REAL).elements);
    expect(read(REAL.replaceAll('\n', '\r\n')).elements).toEqual(read(REAL).elements);
    expect(read(PAIRS.replaceAll(/ +\n/gu, '\n')).elements).toEqual(read(PAIRS).elements);
  });

  it('leaves out systems that are not planned with, and counts them', () => {
    const [first = ''] = recordsOf(REAL);
    const text = REAL + first.replace(/^G\d\d/u, 'I05') + '\n' + first.replace(/^G\d\d/u, 'S23') + '\n';
    expect([...read(text).skipped]).toEqual([
      ['NavIC', 1],
      ['SBAS', 1],
    ]);
    expect(read(text).elements).toEqual(read(REAL).elements);
  });

  it('says the health that each satellite sends', () => {
    // The sixth line of a record, second field.
    const [first = ''] = recordsOf(REAL);
    const lines = first.split('\n');
    lines[6] = `${(lines[6] ?? '').slice(0, 23)}${' .630000000000E+02'.padStart(19)}${(lines[6] ?? '').slice(42)}`;
    const { elements } = read(header('3.04', 'N: GNSS NAV DATA') + lines.join('\n'));
    expect(elements.map(({ isHealthy }) => isHealthy)).toEqual([false]);
    expect(read(REAL).elements.every(({ isHealthy }) => isHealthy)).toBe(true);
  });

  it('says the line of a record that is cut off, of a field that is no number, and of an orbit that is none', () => {
    const [first = '', second = ''] = recordsOf(REAL);
    const start = header('3.04', 'N: GNSS NAV DATA');
    const cut = read(start + first.split('\n').slice(0, 4).join('\n') + '\n' + second);
    expect(cut.faults.map(({ code, where }) => [code, where?.line])).toEqual([['nav-unreadable', 7]]);
    expect(cut.elements).toHaveLength(1);
    const bad = read(start + first.replace(/E\+02/u, 'X+02') + '\n' + second);
    expect(bad.faults.map(({ code }) => code)).toEqual(['nav-unreadable']);
    expect(bad.faults[0]?.message).toMatch(/^G\d\d: field \d is no number$/u);
    const shifted = read(start + second.replace(/\.5153\d+E\+04/u, '.515300000000E+03'));
    expect(shifted.faults.map(({ code, where }) => [code, where?.line])).toEqual([['nav-implausible', 3]]);
  });

  it('is refused where it is observations, another version or without an end of its header', () => {
    expect(codeOf(header('3.04', 'OBSERVATION DATA    G: GPS'))).toBe('nav-not-navigation');
    expect(codeOf(header('1.00', 'NAVIGATION DATA'))).toBe('nav-version');
    expect(codeOf(REAL.replace('END OF HEADER', 'COMMENT'))).toBe('nav-unreadable');
    expect(codeOf('point_id,latitude_deg\n')).toBe('nav-unknown-form');
    expect(codeOf('')).toBe('nav-unknown-form');
  });

  it('never throws, whatever is cut out of it', () => {
    for (let at = 0; at < PAIRS.length; at += 211)
      expect(() => readNavigation(PAIRS.slice(0, at) + PAIRS.slice(at + 97), NEAR)).not.toThrow();
  });
});

/** Where Kepler elements put a satellite an hour on. */
function placeOf(elements: KeplerElements): readonly number[] {
  const into = new Float64Array(3);
  keplerPlace(elements, elements.referenceMs + 3_600_000, into, 0);
  return [...into];
}

// Record 01 of week 963 as it was published: facts of GPS, in the form of YUMA; the text before and between records is made for the test.
const YUMA = `CURRENT ALMANAC, as published

******** Week 963 almanac for PRN-01 ********
ID:                         01
Health:                     000
Eccentricity:               0.7319927216E-002
Time of Applicability(s):  589824.0000
Orbital Inclination(rad):   0.9701853241
Rate of Right Ascen(r/s):  -0.7714607059E-008
SQRT(A)  (m 1/2):           5153.631836
Right Ascen at Week(rad):  -0.7462947611E+000
Argument of Perigee(rad):   0.614052959
Mean Anom(rad):            -0.3114386965E+001
Af0(s):                    -0.2765655518E-004
Af1(s/s):                  -0.3637978807E-011
week:                        963

a line of text between
**** Week 963 almanac for SV-02 ****
ID:                         02
Health:                     063
Eccentricity:               9.1691017151E-003
Time of Applicability(s):   589824.0000
Orbital Inclination(rad):   0.9569606185
Rate of Right Ascen(r/s):  -8.0689073201E-009
SQRT(A)  (m^1/2):           5154.330566
Right Ascen at TOA(rad):   -8.2390832901E-001
Argument of Perigee(rad):   3.117603779
Mean Anom(rad):            -2.0464835167E+000
Af0(s):                    -1.3351440430E-005
Af1(s/s):                   0.0000000000E+000
week:                       963
`;

describe('a YUMA almanac', () => {
  const day = Date.parse('2018-02-20T00:00:00Z');
  const found = (text: string, near = day): NavigationContent => {
    const outcome = readNavigation(text, near);
    if (!outcome.ok) throw new Error(outcome.problems[0]?.message);
    return outcome.value;
  };

  it('is known by its content; text between records and exponents of three digits are no hindrance', () => {
    const { form, elements, faults } = found(YUMA);
    expect(form).toBe('YUMA almanac');
    expect(faults).toEqual([]);
    expect(elements.map(({ satellite, isHealthy, origin }) => [satellite, isHealthy, origin])).toEqual([
      ['G01', true, 'almanac'],
      ['G02', false, 'almanac'],
    ]);
    expect(elements[0]).toMatchObject({
      ...{ eccentricity: 0.007319927216, nodeRateRadPerS: -7.714607059e-9, rootSemiMajorAxis: 5153.631836 },
      ...{
        nodeRad: -0.7462947611,
        perigeeRad: 0.614052959,
        meanAnomalyRad: -3.114386965,
        inclinationRad: 0.9701853241,
      },
    });
  });

  it('rolls its week over to the day asked for', () => {
    // Week 963 of ten bits is 1987 from February 2018, and 963 from June 1998.
    expect(found(YUMA).elements[0]?.referenceMs).toBe(Date.parse('2018-02-10T19:50:24Z'));
    expect(found(YUMA, Date.parse('1999-01-01T00:00:00Z')).elements[0]?.referenceMs).toBe(
      Date.parse('1998-06-27T19:50:24Z'),
    );
    expect(found(YUMA.replaceAll('963', '1987'), 0).elements[0]?.referenceMs).toBe(Date.parse('2018-02-10T19:50:24Z'));
  });

  it('says the line of a record that lacks a line, has one twice or a number that is none', () => {
    const lines = (text: string): readonly unknown[] =>
      found(text).faults.map(({ code, where }) => [code, where?.line]);
    expect(lines(YUMA.replace('Mean Anom(rad):            -0.3114386965E+001\n', ''))).toEqual([['nav-unreadable', 4]]);
    expect(lines(YUMA.replace('5153.631836', '5153,631836'))).toEqual([['nav-unreadable', 10]]);
    expect(
      lines(
        YUMA.replace('Health:                     000', 'ID: 3\nHealth: 0').replace(
          'ID:                         01\n',
          '',
        ),
      ),
    ).toEqual([]);
    expect(lines(YUMA.replace('week:                        963', 'week: 963\nweek: 963'))).toEqual([
      ['nav-unreadable', 17],
    ]);
    expect(lines(YUMA.replace('5153.631836', '153.631836'))).toEqual([['nav-implausible', 4]]);
  });

  it('never throws, whatever is cut out of it', () => {
    for (let at = 0; at < YUMA.length; at += 13)
      expect(() => readNavigation(YUMA.slice(0, at) + YUMA.slice(at + 41), day)).not.toThrow();
  });
});

describe('a SEM almanac', () => {
  const day = Date.parse('2018-02-20T00:00:00Z');
  const semi = (radians: number): string => String(radians / Math.PI);
  // The first record above in semicircles, with the inclination from 0.3 semicircles.
  const record = [
    ...['1', '63', '0'],
    `7.319927216E-03 ${String(0.9701853241 / Math.PI - 0.3)} ${semi(-7.714607059e-9)}`,
    `5.153631836E+03 ${semi(-0.7462947611)} ${semi(0.614052959)}`,
    `${semi(-3.114386965)} -2.765655518E-05 -3.637978807E-12`,
    ...['0', '11'],
  ];
  const text = ['1  CURRENT.ALM', '963 589824', '', ...record].join('\n');

  it('gives the places that the same almanac in the form of YUMA gives', () => {
    const [sem, yuma] = [readNavigation(text, day), readNavigation(YUMA, day)];
    if (!sem.ok || !yuma.ok) throw new Error('an almanac was not read');
    expect(sem.value.form).toBe('SEM almanac');
    const [one, other] = [sem.value.elements[0], yuma.value.elements[0]];
    expect(one?.referenceMs).toBe(other?.referenceMs);
    for (const [axis, metres] of placeOf(one as KeplerElements).entries())
      expect(Math.abs(metres - entryAt(placeOf(other as KeplerElements), axis))).toBeLessThan(1e-3);
  });

  it('is refused where it is cut off or holds a word', () => {
    expect(codeOf(text.slice(0, -4))).toBe('nav-unreadable');
    expect(codeOf(text.replace('\n63\n', '\nsixty\n'))).toBe('nav-unreadable');
  });
});
