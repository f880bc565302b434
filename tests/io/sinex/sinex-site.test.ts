import { describe, expect, it } from 'vitest';
import { siteAt } from '../../../src/core/frames/realisations/site-estimate.js';
import { sinexEpochYear } from '../../../src/io/sinex/sinex-fields.js';
import { readSinex } from '../../../src/io/sinex/sinex-read.js';
import { sinexSite } from '../../../src/io/sinex/sinex-site.js';
import type { SinexSite } from '../../../src/io/sinex/sinex-site.js';
import { apartM, valueOf } from '../../support/shift-of-row.js';

const HEADER = '%=SNX 2.02 IGN 20:225:43202 IGN 20:208:75600 20:210:43200 C  1577 2 S E';

function estimate(index: number, type: string, value: string, sigma: string, code = '7090', solution = '1'): string {
  const unit = type.startsWith('VEL') ? 'm/y' : 'm';
  return ` ${String(index).padStart(5)} ${type.padEnd(6)} ${code}  A ${solution.padStart(4)} 15:001:00000 ${unit.padEnd(4)} 2 ${value.padStart(21)} ${sigma.padStart(11)}`;
}

// Station 7090 of a published solution of 2025 (DGFI): its estimates and sigmas; the rest of the file is made for the test.
const ESTIMATES = [
  estimate(1, 'STAX', '-.238900777005032D+07', '.695430D-03'),
  estimate(2, 'STAY', '0.504332948581405E+07', '.595900E-03'),
  estimate(3, 'STAZ', '-.307852397088064E+07', '.698660E-03'),
  estimate(4, 'VELX', '-.468239683104311E-01', '.528960E-04'),
  estimate(5, 'VELY', '0.797007645988301E-02', '.500000E-04'),
  estimate(6, 'VELZ', '0.509599889854529E-01', '.500000E-04'),
];

function fileOf(matrix: readonly string[] = [], estimates = ESTIMATES): string {
  return [
    HEADER,
    '* a comment',
    '+SITE/ECCENTRICITY',
    ' 7090  A    1 P 00:000:00000 00:000:00000 UNE   3.1770   0.0010  -0.0020',
    '-SITE/ECCENTRICITY',
    '+SOLUTION/ESTIMATE',
    ...estimates,
    '-SOLUTION/ESTIMATE',
    ...matrix,
    '%ENDSNX',
    '',
  ].join('\n');
}

const siteOf = (text: string, epochYear: number | null = null): SinexSite =>
  valueOf(sinexSite(valueOf(readSinex(text)), '7090', epochYear));

describe('the header of a SINEX file', () => {
  it('has its times: 2020-08-12 12:00:02, data 2020-07-26 21:00:00 to 2020-07-28 12:00:00, 1577 estimates', () => {
    // Read in the test of a public reader of the format.
    const { header } = valueOf(readSinex(fileOf()));
    const year = (utc: string): number =>
      2020 + (Date.parse(utc) - Date.parse('2020-01-01T00:00:00Z')) / 86_400_000 / 366;
    expect(header.createdYear).toBeCloseTo(year('2020-08-12T12:00:02Z'), 9);
    expect(header.startYear).toBeCloseTo(year('2020-07-26T21:00:00Z'), 9);
    expect(header.endYear).toBeCloseTo(year('2020-07-28T12:00:00Z'), 9);
    expect([header.version, header.agency, header.technique, header.parameters]).toEqual(['2.02', 'IGN', 'C', 1577]);
  });

  it('has years of two digits up to 50 in this century, and an open end', () => {
    expect(sinexEpochYear('50:001:00000')).toBe(2050);
    expect(sinexEpochYear('51:001:00000')).toBe(1951);
    expect(sinexEpochYear('00:000:00000')).toBeNull();
    expect(sinexEpochYear('2023:001:00000')).toBe(2023);
    for (const bad of ['15:367:00000', '15:000:00000', '15:001:86401', '15-001-00000'])
      expect(sinexEpochYear(bad)).toBeNull();
  });
});

describe('a site of a SINEX file', () => {
  it('at 2026.90 is where NumPy puts it, with the sigma of X 0.938 mm', () => {
    const { position, covariance } = siteAt(siteOf(fileOf()), 2026.9);
    expect(apartM(position, { xM: -2389008.32725554, yM: 5043329.58065796, zM: -3078523.36445677 })).toBeLessThan(1e-7);
    expect(Math.sqrt(covariance.xx) * 1000).toBeCloseTo(0.938, 3);
  });

  it('has its eccentricity', () => {
    expect(siteOf(fileOf()).eccentricity).toEqual({ upM: 3.177, northM: 0.001, eastM: -0.002 });
  });

  const SIGMAS = [0.69543e-3, 0.5959e-3, 0.69866e-3, 0.052896e-3, 0.05e-3, 0.05e-3];
  const CORRELATION = -0.4;
  const covarianceAt = (i: number, j: number): number =>
    (i === j ? 1 : Math.abs(i - j) === 3 ? CORRELATION : 0) * (SIGMAS[i] ?? 0) * (SIGMAS[j] ?? 0);
  const rows = (at: (i: number, j: number) => number, upper = false): string[] =>
    SIGMAS.flatMap((_, i) =>
      (upper ? [i, i + 3] : [0, 3])
        .filter((from) => (upper ? from < 6 : from <= i))
        .map((from) => {
          const to = upper ? Math.min(6, from + 3) : Math.min(i + 1, from + 3);
          const cells = Array.from({ length: to - from }, (_unused, k) => at(i, from + k).toExponential(14));
          return ` ${String(i + 1).padStart(5)} ${String(from + 1).padStart(5)} ${cells.join(' ')}`;
        }),
    );
  const block = (form: string, lines: readonly string[]): string[] => [
    `+SOLUTION/MATRIX_ESTIMATE ${form}`,
    ...lines,
    `-SOLUTION/MATRIX_ESTIMATE ${form}`,
  ];
  // The inverse of the covariance: of each axis a 2 × 2 block of position and velocity.
  const normalAt = (i: number, j: number): number => {
    if (i % 3 !== j % 3) return 0;
    const [a, b] = [SIGMAS[i % 3] ?? 0, SIGMAS[(i % 3) + 3] ?? 0];
    const rest = 1 - CORRELATION ** 2;
    return i === j ? 1 / (rest * (i < 3 ? a : b) ** 2) : -CORRELATION / (rest * a * b);
  };

  it.each([
    ['L COVA', rows(covarianceAt)],
    ['U COVA', rows(covarianceAt, true)],
    ['L CORR', rows((i, j) => (i === j ? (SIGMAS[i] ?? 0) : Math.abs(i - j) === 3 ? CORRELATION : 0))],
    ['U CORR', rows((i, j) => (i === j ? (SIGMAS[i] ?? 0) : Math.abs(i - j) === 3 ? CORRELATION : 0), true)],
    ['L INFO', rows(normalAt)],
    ['U INFO', rows(normalAt, true)],
  ])('has one covariance, whether it is written as %s or otherwise', (form, lines) => {
    const { covariance } = siteAt(siteOf(fileOf(block(form, lines))), 2026.9);
    const dt = 11.9;
    const expected = (SIGMAS[0] ?? 0) ** 2 + 2 * dt * covarianceAt(0, 3) + (dt * (SIGMAS[3] ?? 0)) ** 2;
    expect(covariance.xx / expected).toBeCloseTo(1, 9);
    expect(Math.abs(covariance.xy)).toBeLessThan(1e-18);
  });

  it.each([
    ['a matrix cut off before its velocities', block('L COVA', rows(covarianceAt).slice(0, 3)), ESTIMATES],
    [
      'correlations without a sigma',
      block(
        'L CORR',
        rows((i, j) => (i === j && i < 5 ? (SIGMAS[i] ?? 0) : 0)),
      ),
      ESTIMATES,
    ],
    ['a normal matrix of fewer parameters', block('L INFO', rows(normalAt).slice(0, 3)), ESTIMATES],
    ['a sigma of nought', [], ESTIMATES.map((line) => line.replace(/\S+$/u, '0.00000E+00'))],
  ])('is refused with %s, which would be taken for exact', (_, lines, estimates) => {
    const site = sinexSite(valueOf(readSinex(fileOf(lines, estimates))), '7090', null);
    expect(site.problems[0]?.code).toBe('sinex-unsupported');
  });

  it('is the solution whose data span the epoch, else the last', () => {
    const second = ESTIMATES.map((line) => line.replace('  A    1 ', '  A    2 ').replace('.238900777', '.238900888'));
    const epochs = ['+SOLUTION/EPOCHS', ' 7090  A    1 P 10:001:00000 20:001:00000 15:001:00000', '-SOLUTION/EPOCHS'];
    const text = fileOf(epochs, [...ESTIMATES, ...second]);
    expect(siteOf(text, 2015).solution).toBe('1');
    expect(siteOf(text, 2026).solution).toBe('2');
  });

  it('is refused, with the line, where the file is cut off, another, or lacks the site', () => {
    expect(readSinex(fileOf().replace('%ENDSNX', '')).problems[0]).toMatchObject({ code: 'sinex-unreadable' });
    expect(readSinex('point,x\n').problems[0]).toMatchObject({ code: 'sinex-unreadable', where: { line: 1 } });
    expect(readSinex(fileOf().replace('-SOLUTION/ESTIMATE', '')).problems[0]?.code).toBe('sinex-unreadable');
    const other = sinexSite(valueOf(readSinex(fileOf())), 'ABCD', null);
    expect(other.problems[0]).toMatchObject({ code: 'sinex-site-unknown', expected: '7090' });
    const bad = fileOf(
      [],
      [ESTIMATES[0]?.replace('.238900777005032D+07', '.2389OO777005032D+07') ?? '', ...ESTIMATES.slice(1)],
    );
    expect(sinexSite(valueOf(readSinex(bad)), '7090', null).problems[0]).toMatchObject({
      code: 'sinex-unreadable',
      where: { line: 7 },
    });
    const feet = fileOf(
      [],
      ESTIMATES.map((line) => line.replace(' m    2', ' cm   2')),
    );
    expect(sinexSite(valueOf(readSinex(feet)), '7090', null).problems[0]?.code).toBe('sinex-unreadable');
    const flat = block(
      'L INFO',
      rows(() => 1),
    );
    expect(sinexSite(valueOf(readSinex(fileOf(flat))), '7090', null).problems[0]?.code).toBe('sinex-unsupported');
    const words = block('L COVA', ['     1     1 one']);
    expect(sinexSite(valueOf(readSinex(fileOf(words))), '7090', null).problems[0]?.code).toBe('sinex-unreadable');
  });
});
