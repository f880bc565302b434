import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import { loadGridSystem } from '../../../../src/files/systems/load-systems.js';
import type { ProblemCode } from '../../../../src/records/codes/problem-codes.js';
import type { ReducedPoint } from '../../../../src/records/points/reduced-point.js';
import type { ReductionReport } from '../../../../src/records/reports/reduction-report.js';
import { reportBases } from '../../../../src/tasks/bases/report-bases.js';
import { createReductionReportCollector } from '../../../../src/tasks/reduce/totals/collect-reduction-report.js';
import type { ReductionSetup } from '../../../../src/tasks/reduce/reduction-setup.js';
import type { ReductionTotals } from '../../../../src/tasks/reduce/totals/reduction-totals.js';
import { valueOf } from '../../../support/shift-of-row.js';

const grid = valueOf(loadGridSystem('EPSG:25832'));
const geodesic = createGeodesic(GRS80);
const setup = (own: object = {}): ReductionSetup =>
  ({
    grid,
    geodesic,
    fixesSystem: { code: null, name: 'what the base sent' },
    shift: null,
    geoid: null,
    geoidSigmaM: null,
    bases: [],
    tolerance: { horizontalM: null, verticalM: null },
    acceptance: {},
    ...own,
  }) as unknown as ReductionSetup;
const totals = (refusals: readonly (readonly [ProblemCode, number])[] = []): ReductionTotals =>
  ({
    refusals: new Map(refusals),
    points: { accepted: 1, review: 2, rejected: 3 },
    epochs: { used: 10, refused: 4 },
    farthest: () => ({ value: 1234.5, pointId: 'P9' }),
    worstCircle95: () => null,
    worstVertical95: () => null,
    bases: new Map(),
  }) as unknown as ReductionTotals;
const point = (pointId: string, own: Partial<ReducedPoint> = {}): ReducedPoint =>
  ({ pointId, occupation: '1', verdict: 'accepted', reasons: [], ...own }) as ReducedPoint;
interface Parts {
  readonly points?: readonly ReducedPoint[];
  readonly ends?: object;
  readonly setup?: ReductionSetup;
  readonly totals?: ReductionTotals;
  readonly epochYear?: number | null;
}
function reportOf(parts: Parts): ReductionReport {
  const collector = createReductionReportCollector();
  for (const one of parts.points ?? []) collector.addPoint(one);
  return collector.report(
    parts.setup ?? setup(),
    parts.totals ?? totals(),
    { pairs: null, revised: new Map(), disputed: [], ...parts.ends },
    { epochYear: parts.epochYear ?? null } as never,
  );
}

describe('the points of the page of a reduction', () => {
  it('are two thousand at most, those for review and rejected before others', () => {
    const many = Array.from({ length: 2000 }, (_, index) => point(`P${String(index)}`));
    expect(reportOf({ points: many }).pointsLeftOut).toBe(0);
    const { points, pointsLeftOut } = reportOf({
      points: [...many, point('V', { verdict: 'review' }), point('X', { verdict: 'rejected' })],
    });
    expect(points).toHaveLength(2000);
    expect(points.slice(-2).map(({ pointId }) => pointId)).toEqual(['V', 'X']);
    expect(pointsLeftOut).toBe(2);
  });

  it('are for review where their occupations disagree, which is known only at the end', () => {
    const disputed = [
      { row: 0, pointId: 'A', occupation: '1', wasAccepted: true, reasons: ['point-repeat-disagrees'] },
    ];
    const { points } = reportOf({
      points: [point('A'), point('A', { occupation: '2' }), point('B')],
      ends: { disputed },
    });
    expect(points.map(({ verdict, reasons }) => [verdict, ...reasons])).toEqual([
      ['review', 'point-repeat-disagrees'],
      ['accepted'],
      ['accepted'],
    ]);
  });

  it('have refusals by how many there were, of equals by name', () => {
    const { refusals, epochsUsed, epochsRefused, farthest, worstCircle95, surveyed } = reportOf({
      totals: totals([
        ['epoch-pdop', 2],
        ['epoch-outlier', 7],
        ['epoch-age', 2],
      ] as unknown as [ProblemCode, number][]),
    });
    expect(refusals.map(([code]) => code)).toEqual(['epoch-outlier', 'epoch-age', 'epoch-pdop']);
    expect([epochsUsed, epochsRefused, farthest, worstCircle95, surveyed]).toEqual([
      10,
      4,
      { valueM: 1234.5, pointId: 'P9' },
      null,
      null,
    ]);
  });

  it('have four hundred pairs of repeats, those that disagree before others, and the number of the rest', () => {
    const pair = (pointId: string, disagrees: boolean): object => ({
      first: { pointId, occupation: '1' },
      second: { pointId, occupation: '2' },
      test: {
        differenceEastM: 1,
        differenceNorthM: 2,
        differenceUpM: 3,
        horizontalStatistic: 4,
        verticalStatistic: 5,
        separationS: 600,
        tooSoon: null,
      },
      disagrees,
    });
    const pairs = Array.from({ length: 402 }, (_, index) => pair(`P${String(index)}`, index === 401));
    const report = reportOf({ ends: { pairs } });
    expect(report.repeats).toHaveLength(400);
    expect(report.repeatsLeftOut).toBe(2);
    expect(report.repeats?.at(-1)).toEqual({
      pointId: 'P401',
      first: '1',
      second: '2',
      difference: { eastM: 1, northM: 2, upM: 3 },
      horizontalStatistic: 4,
      verticalStatistic: 5,
      disagrees: true,
      separationS: 600,
      tooSoon: null,
    });
    expect(reportOf({ ends: { pairs: pairs.slice(0, 3) } })).toMatchObject({ repeatsLeftOut: 0 });
    expect(reportOf({})).toMatchObject({ repeats: null, repeatsLeftOut: 0 });
  });
});

describe('the frame of the page of a reduction', () => {
  it('names systems by code and name, and the epoch', () => {
    expect(reportOf({ epochYear: 2026.17 }).frame).toMatchObject({
      gridName: 'EPSG:25832 ETRS89 / UTM zone 32N',
      fixesName: 'what the base sent',
      epochYear: 2026.17,
      shift: null,
    });
  });

  it.each<readonly [object, string]>([
    [{}, 'a shift'],
    [{ code: 'EPSG:1' }, 'EPSG:1 a shift'],
    [{ direction: 'inverse' }, 'a shift, applied backwards'],
    [{ epochYear: 2020.5 }, 'a shift, at epoch 2020.5'],
    [{ file: { name: 's.toml', sha256: 'ab', test: null } }, 'a shift, from s.toml (SHA-256 ab)'],
    [{ file: { name: 's.gsb', sha256: 'ab', test: 'a node' } }, 'a shift, from s.gsb (SHA-256 ab; a node)'],
  ])('says of a shift %j: %s', (own, words) => {
    const shift = { code: null, name: 'a shift', direction: 'forward', epochYear: null, file: null, ...own };
    expect(reportOf({ setup: setup({ shift }) }).frame.shift).toBe(words);
  });
});

describe('the bases of a page', () => {
  const base = (own: object = {}): object => ({
    settings: { sigmaHorizontalM: 0.01, sigmaVerticalM: 0.02 },
    identity: { setupKey: 'B1', setupName: 'B1' },
    origin: { geodetic: { latitudeDeg: 46, longitudeDeg: 9, ellipsoidalHeightM: 0 }, at: 'mark' },
    antenna: { verticalM: 1.5 },
    correction: null,
    ...own,
  });
  const found = (farthestM: number | null, own: object = {}) =>
    reportBases(
      setup({ bases: [base()], ...own }),
      new Map(farthestM === null ? [] : [['B1', farthestM]]),
      new Map(),
    )[0];

  it.each<readonly [number, readonly number[], readonly number[]]>([
    // Farthest; then three to six round distances to it, and the tenths of the first.
    [1000, [200, 400, 600, 800, 1000], [20, 40, 60, 80, 100, 120, 140, 160, 180]],
    [1001, [250, 500, 750, 1000], [25, 50, 75, 100, 125, 150, 175, 200, 225]],
    [1251, [500, 1000, 1500], [50, 100, 150, 200, 250, 300, 350, 400, 450]],
    [2600, [1000, 2000, 3000], [100, 200, 300, 400, 500, 600, 700, 800, 900]],
    [9000, [2000, 4000, 6000, 8000], [200, 400, 600, 800, 1000, 1200, 1400, 1600, 1800]],
  ])('have lines of equal distance out to %i m', (farthestM, outer, inner) => {
    const rings = found(farthestM)?.rings ?? [];
    expect(rings.map(({ radiusM }) => Math.round(radiusM * 1e6) / 1e6)).toEqual([...outer, ...inner]);
    expect(new Set(rings.map(({ places }) => places.length))).toEqual(new Set([72]));
  });

  it('have each place of a line at its distance, around from north over east', () => {
    const [first] = found(1000)?.rings ?? [];
    const at = found(1000)?.place;
    // On the central meridian north is up; the scale there is 0.9996.
    const [north, east] = [first?.places[0], first?.places[18]];
    expect([(north?.first ?? 0) - (at?.first ?? 0), (north?.second ?? 0) - (at?.second ?? 0)]).toEqual([
      expect.closeTo(0, 3),
      expect.closeTo(200 * 0.9996, 3),
    ]);
    expect([(east?.first ?? 0) - (at?.first ?? 0), (east?.second ?? 0) - (at?.second ?? 0)]).toEqual([
      expect.closeTo(200 * 0.9996, 3),
      expect.closeTo(0, 2),
    ]);
  });

  it('have none where nothing was measured from them, and no place without a grid', () => {
    expect(found(null)).toMatchObject({ id: 'B1', at: 'mark', antennaVerticalM: 1.5, farthestM: null, rings: [] });
    expect(found(null, { bases: [base({ antenna: null })] })?.antennaVerticalM).toBeNull();
    expect(found(1000, { grid: null })?.place).toBeNull();
  });
});
