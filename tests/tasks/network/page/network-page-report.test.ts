import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../../../src/core/ellipsoid/geocentric.js';
import { loadGridSystem } from '../../../../src/files/systems/load-systems.js';
import type { NetworkPageReport } from '../../../../src/records/reports/network-page-report.js';
import type { NetworkPair, NetworkPoint } from '../../../../src/records/reports/network-report.js';
import { networkPageReport } from '../../../../src/tasks/network/page/network-page-report.js';
import type { NetworkResults } from '../../../../src/tasks/network/network-results.js';
import { valueOf } from '../../../support/shift-of-row.js';

const close = (value: number, digits = 3): unknown => expect.closeTo(value, digits);
const SUMMARY = { ellipseMajor95M: 0.03, ellipseMinor95M: 0.01, ellipseAzimuthDeg: 30 };

function station(id: string, place: readonly [number, number] | null, own: object = {}): NetworkPoint {
  const geodetic = place === null ? null : { latitudeDeg: place[0], longitudeDeg: place[1], ellipsoidalHeightM: 100 };
  return {
    id,
    geodetic,
    position: geodetic === null ? null : geodeticToGeocentric(geodetic, GRS80),
    summary: geodetic === null ? null : SUMMARY,
    nearestControl: null,
    isChecked: true,
    verdict: 'within',
    ...own,
  } as unknown as NetworkPoint;
}
interface Observed {
  readonly kind?: 'vector' | 'levelled' | 'distance';
  readonly from: string;
  readonly to: string;
  readonly verdict?: 'within' | 'review' | 'no';
  readonly w?: readonly (number | null)[];
}
interface Parts {
  readonly points?: readonly NetworkPoint[];
  readonly observed?: readonly Observed[];
  /** What residuals are held against. */
  readonly limits?: object;
  readonly control?: readonly object[];
  readonly pairs?: readonly object[];
  readonly grid?: NetworkResults['systems']['grid'];
  readonly adjusted?: object;
}
const POINTS = [station('A', [46, 10]), station('B', [46.01, 10]), station('C', [46, 10.02])];

/** The page of results as far as it looks at them. */
function page({
  points = POINTS,
  observed = [],
  control = [],
  pairs = [],
  grid = null,
  adjusted = {},
  limits = { block: () => 9, level: 0.001, variance: null },
}: Parts): NetworkPageReport {
  const lists = { vector: [], levelled: [], distance: [] } as Record<string, object[]>;
  const rows = observed.map(({ kind = 'vector', from, to, verdict = 'within' }) => {
    const list = lists[kind] as object[];
    list.push({ fromId: from, toId: to });
    const reasons = verdict === 'no' ? ['network-observation'] : [];
    return { kind, index: list.length - 1, fromId: from, toId: to, verdict, reasons };
  });
  const places = Object.fromEntries(
    Object.entries(lists).map(([kind, list]) => [
      kind,
      list.map((_, index) => ({ source: `day/${kind}.csv`, line: index + 2 })),
    ]),
  );
  const list = { indexOf: new Map(points.map(({ id }, index) => [id, index])) };
  const results = {
    answer: 'within',
    reasons: [],
    points,
    observations: rows,
    control,
    parameters: [],
    distortions: [],
    components: [],
    bases: [],
    systems: { grid, ellipsoid: GRS80 },
    relations: {
      between: (first: number, second: number) =>
        first === second ? null : { eeM2: 4e-6, enM2: 0, euM2: 0, nnM2: 1e-6, nuM2: 0, uuM2: 9e-6 },
    },
    adjusted: {
      network: {
        vectors: lists['vector'],
        levelled: lists['levelled'],
        distances: lists['distance'],
        control: [{ id: 'A' }, { id: 'K' }],
      },
      datum: 'control',
      anchors: [0],
      held: [0],
      pull: null,
      control: {},
      excluded: [],
      excludedControl: [],
      distortions: null,
      scale: 1,
      freeTest: { answer: 'within' },
      finalTest: { answer: 'within' },
      free: {
        limits,
        solved: { built: { origins: { length: rows.length, of: (at: number) => rows[at] } } },
        tests: { of: (at: number) => ({ w: observed[at]?.w ?? [1, -2, 0.5] }) },
      },
      final: { solved: { list } },
      ...adjusted,
    },
  } as unknown as NetworkResults;
  return networkPageReport(results, places as never, pairs as unknown as readonly NetworkPair[], {} as never);
}

describe('what a page says of residuals', () => {
  it('has one for each number that others check, by its axis', () => {
    const { residuals, residualCount } = page({
      observed: [
        { from: 'A', to: 'B', w: [1, null, 0.5] },
        { kind: 'levelled', from: 'B', to: 'C', w: [2] },
        { kind: 'distance', from: 'A', to: 'C', w: [-3], verdict: 'no' },
      ],
    });
    expect(residuals).toEqual([
      { name: 'A to B', axis: 'X', w: 1, isFoul: false },
      { name: 'A to B', axis: 'Z', w: 0.5, isFoul: false },
      { name: 'B to C', axis: 'height', w: 2, isFoul: false },
      { name: 'A to C', axis: 'distance', w: -3, isFoul: true },
    ]);
    expect(residualCount).toBe(4);
  });

  it('names the one that stands out most, of those that fail where any does', () => {
    const of = (...ws: readonly (readonly [number, boolean])[]): unknown =>
      page({
        observed: ws.map(([w, isFoul], index) => ({
          from: 'A',
          to: `P${String(index)}`,
          w: [w, 0, 0],
          verdict: isFoul ? 'no' : 'within',
        })),
      }).worst;
    // The limit of one number is the root of that of the block: 3 of 9.
    expect(of([2, false], [-2.5, false], [1, false])).toEqual({
      what: 'A to P1',
      axis: 'X',
      value: -2.5,
      limit: 3,
      // The stated sigmas hold.
      sigmaFactor: null,
      isFoul: false,
    });
    expect(of([5, false], [-3.5, true], [3.2, true])).toEqual({
      what: 'A to P1',
      axis: 'X',
      value: -3.5,
      limit: 3,
      sigmaFactor: null,
      isFoul: true,
    });
    // Where the residuals say how large the sigmas are: a quarter of the stated variances, half of the sigmas.
    const limits = { block: () => 9, level: 0.001, variance: 0.25 };
    const estimated = page({ observed: [{ from: 'A', to: 'B' }], limits }).worst;
    expect(estimated).toMatchObject({ value: -2, limit: 3, sigmaFactor: 0.5 });
    expect(page({}).worst).toBeNull();
    expect(page({ observed: [{ from: 'A', to: 'B' }], adjusted: {} }).worst).toMatchObject({ axis: 'Y', value: -2 });
  });

  it('names the control that fails by most, and the axis it is farthest off along', () => {
    const control = (
      id: string,
      test: number | null,
      differenceM: readonly (number | null)[],
      verdict = 'no',
      limit: number | null = 5,
    ): object => ({ id, test, limit, verdict, differenceM, reasons: [] });
    const worst = (...all: readonly object[]): unknown => page({ control: all }).worstControl;
    expect(
      worst(control('K1', 6, [0.01, -0.03, null]), control('K2', 9, [null, null, 0.05]), control('K3', 8, [1, 1, 1])),
    ).toEqual({
      id: 'K2',
      axis: 'up',
      differenceM: 0.05,
      test: 9,
      limit: 5,
    });
    expect(worst(control('K1', 6, [0.01, -0.03, 0.02]))).toMatchObject({ axis: 'north', differenceM: -0.03 });
    expect(worst(control('K1', 6, [0.03, -0.01, 0.02]), control('K2', 6, [1, 1, 1]))).toMatchObject({
      id: 'K1',
      axis: 'east',
    });
    expect(worst(control('K1', 6, [1, 1, 1], 'within'))).toBeNull();
    expect(worst(control('K1', null, [1, 1, 1]))).toBeNull();
    expect(worst(control('K1', 6, [1, 1, 1], 'no', null))).toBeNull();
  });
});

describe('what a page says of stations and lines', () => {
  it('has those that ask for a look first, with an ellipse where there is a place', () => {
    const { stations, stationCount, counts } = page({
      points: [
        station('A', [46, 10]),
        station('B', [46.01, 10], { verdict: 'review', isChecked: false }),
        station('H', null, { verdict: 'no', isChecked: false }),
      ],
    });
    expect(stations.map(({ point, isControl, ellipse }) => [point.id, isControl, ellipse === null])).toEqual([
      ['H', false, true],
      ['B', false, false],
      ['A', true, false],
    ]);
    expect(stationCount).toBe(3);
    expect(counts).toMatchObject({ stations: 3, unchecked: 2 });
  });

  it('turns ellipses from true north to the top of the plan: by the convergence of the grid, or about the middle', () => {
    // One degree east of the meridian of zone 32 at 46° N: sin 46° of a degree (to a thousandth of a degree).
    const points = [station('A', [46, 10])];
    const utm = page({ points, grid: valueOf(loadGridSystem('EPSG:25832')) });
    expect(utm.stations[0]?.ellipse?.bearingDeg).toBeCloseTo(30 - Math.sin((46 * Math.PI) / 180), 3);
    expect(utm.systemName).toContain('EPSG:25832 ');
    const middle = page({ points: [station('A', [46, 10]), station('B', [46, 12])] });
    // The middle lies at 11°: A is a degree west of it.
    expect(middle.stations[0]?.ellipse?.bearingDeg).toBeCloseTo(30 + Math.sin((46 * Math.PI) / 180), 3);
    expect(middle.systemName).toBeNull();
  });

  it('lays lines between stations that have places, and says of each where its row stands', () => {
    const report = page({
      points: [...POINTS, station('H', null)],
      observed: [
        { from: 'A', to: 'B' },
        { from: 'A', to: 'H' },
        { kind: 'levelled', from: 'B', to: 'C', verdict: 'no', w: [9] },
        { from: 'C', to: 'A', verdict: 'review' },
      ],
    });
    expect(report.lines.map(({ answer }) => answer)).toEqual(['within', 'no', 'review']);
    // From A to B: 0.01° of the meridian at 46° N on GRS 80, 1111.5 m, and 100 m up.
    const [line] = report.lines;
    expect((line?.to.second ?? 0) - (line?.from.second ?? 0)).toBeCloseTo(1111.53, 1);
    // The meridian of both leans to that of the middle, 0.00667° east of it: 1111.5 m times 0.00667°·sin 46°.
    expect((line?.to.first ?? 0) - (line?.from.first ?? 0)).toBeCloseTo(0.093, 2);
    expect(report.observations.map(({ row, where }) => [row.verdict, where])).toEqual([
      ['no', 'levelled.csv:2'],
      ['review', 'vector.csv:4'],
      ['within', 'vector.csv:2'],
      ['within', 'vector.csv:3'],
    ]);
    expect(report.counts).toMatchObject({ observations: 4, failed: 1, excluded: 0 });
  });

  it('counts what was left out', () => {
    const report = page({
      observed: [{ from: 'A', to: 'B' }],
      adjusted: { excluded: [{ kind: 'vector', index: 0, test: 12.34, limit: 9 }], excludedControl: [1] },
    });
    expect(report.counts.excluded).toBe(2);
    expect(report.removed.map(({ what, why }) => `${what}: ${why}`)).toEqual([
      'vector A to B: its test was 12.3, the limit 9.0, and nothing it agrees with brought it back',
      'control K: the network and the other control say another place',
    ]);
    for (const missing of [{ test: null }, { limit: null }])
      expect(
        page({
          observed: [{ from: 'A', to: 'B' }],
          adjusted: { excluded: [{ kind: 'vector', index: 0, test: 12, limit: 9, ...missing }] },
        }).removed[0]?.why,
      ).toBe('it lies far from where most observations meet');
  });
});

describe('what a page says of two stations to each other', () => {
  it('is about the middle between them: of the pairs that were asked', () => {
    const { relative, arePairsAsked } = page({
      pairs: [
        { fromId: 'A', toId: 'B', summary: SUMMARY },
        { fromId: 'A', toId: 'X', summary: SUMMARY },
      ],
    });
    expect(arePairsAsked).toBe(true);
    expect(relative).toHaveLength(1);
    expect(relative[0]).toMatchObject({ fromId: 'A', toId: 'B', summary: SUMMARY, distanceM: close(1111.53, 1) });
  });

  it('or of stations and the control nearest to them, each turned by the mean of both ends', () => {
    const points = [
      station('A', [46, 10], { nearestControl: 'B' }),
      station('B', [46, 12]),
      station('C', [46, 11], { nearestControl: 'H' }),
      station('H', null, { nearestControl: 'A' }),
    ];
    const { relative, arePairsAsked } = page({ points });
    expect(arePairsAsked).toBe(false);
    expect(relative.map(({ fromId, toId }) => [fromId, toId])).toEqual([['A', 'B']]);
    // East is the larger axis: 90°, and the convergences of both ends about the middle at 11° are opposite.
    expect(relative[0]?.summary.ellipseAzimuthDeg).toBeCloseTo(90, 6);
    expect(relative[0]?.bearingDeg).toBeCloseTo(90, 6);
    const { stations } = page({ points });
    const [a, b] = ['A', 'B'].map((id) => stations.find(({ point }) => point.id === id)?.ellipse?.place);
    expect(relative[0]?.place).toEqual({
      first: close(((a?.first ?? 0) + (b?.first ?? 0)) / 2),
      second: close(((a?.second ?? 0) + (b?.second ?? 0)) / 2),
    });
    // Both ends at the same side: half of the sum of both convergences.
    const east = page({
      points: [station('A', [46, 10], { nearestControl: 'B' }), station('B', [46, 10.5])],
      grid: valueOf(loadGridSystem('EPSG:25832')),
    });
    expect(east.relative[0]?.bearingDeg).toBeCloseTo(90 - 1.25 * Math.sin((46 * Math.PI) / 180), 3);
  });

  it('is kept for sixty', () => {
    const pairs = Array.from({ length: 65 }, () => ({ fromId: 'A', toId: 'B', summary: SUMMARY }));
    expect(page({ pairs }).relative).toHaveLength(60);
  });
});
