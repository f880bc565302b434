import { describe, expect, it } from 'vitest';
import { diagnosisSigmas } from '../../../src/core/adjustment/site/site-levels.js';
import type { DiagnosisInput } from '../../../src/core/adjustment/site/site-diagnosis.js';
import type { SiteDocument } from '../../../src/core/adjustment/site/site-document.js';
import { loadGridSystem } from '../../../src/files/systems/load-systems.js';
import type { SiteReport } from '../../../src/records/reports/site-report.js';
import { diagnosisInput } from '../../../src/tasks/site/doubts/diagnosis-input.js';
import type { FittedSite } from '../../../src/tasks/site/fit-site.js';
import type { JudgedSite } from '../../../src/tasks/site/judge-site.js';
import { withoutConclusions } from '../../../src/tasks/site/judge-site.js';
import { siteReport } from '../../../src/tasks/site/site-report.js';
import { valueOf } from '../../support/shift-of-row.js';

const close = (value: number, digits = 9): unknown => expect.closeTo(value, digits);
const degrees = (radians: number): number => (radians * 180) / Math.PI;
/** A square matrix with these on its diagonal. */
const diagonal = (...values: readonly number[]): number[] =>
  values.flatMap((value, row) => values.map((_, column) => (row === column ? value : 0)));

describe('what the diagnosis of a site looks at', () => {
  const grid = valueOf(loadGridSystem('EPSG:25832'));
  const PLACES = [
    [46, 9],
    [46.001, 9],
    [46, 9.001],
  ] as const;
  const pairs = (mirrored = false): FittedSite['horizontalPairs'] =>
    PLACES.map(([latitudeDeg, longitudeDeg]) => {
      const pair = { first: 0, second: 0 };
      grid.forward(latitudeDeg, longitudeDeg, pair);
      const source = { eastM: pair.first, northM: pair.second };
      const target = mirrored ? { eastM: 1_000_000 - source.eastM, northM: source.northM } : source;
      return {
        source,
        target,
        measured: { station: { latitudeDeg, longitudeDeg } },
        sourceCovariance: { xx: 1e-6, xy: 0, yy: 3e-6 },
        targetCovariance: { xx: 5e-6, xy: 0, yy: 7e-6 },
      };
    }) as unknown as FittedSite['horizontalPairs'];
  const input = (own: object = {}): DiagnosisInput =>
    diagnosisInput(
      {
        horizontal: {
          similarity: {
            scale: 1.5,
            rotationRad: Math.PI / 6,
            sourceOrigin: { eastM: 100, northM: 200 },
            targetOrigin: { eastM: 1100, northM: 1900 },
          },
          cofactor: diagonal(4, 9, 16, 25),
          scaleIsFree: true,
          // Three places: squares of 3, 4 and 12 make 169; what stands behind is not of the plan.
          adjustment: { redundancy: 2, residuals: Float64Array.of(3, -4, 12, 0, 0, 0, 99) },
        },
        horizontalFactor: { applied: 0.25, isFloored: false, isExceeded: false },
        horizontalPairs: pairs(),
        expected: { pointScaleFactor: 0.9996, combinedFactor: 0.9995, convergenceDeg: 1, convergenceRangeDeg: 0.1 },
        exchange: null,
        curvature: null,
        sigmasAreStated: true,
        vertical: null,
        verticalFactor: null,
        heightSigmasAreStated: true,
        ...own,
      } as unknown as FittedSite,
      grid,
    );

  it('are parameters with their sigmas, by hand from the cofactor and the variance factor', () => {
    expect(input()).toMatchObject({
      points: 3,
      scale: 1.5,
      rotationDeg: close(30),
      shiftEastM: 1000,
      shiftNorthM: 1700,
      // A quarter of 4, 9, 16 and 25: roots 1, 1.5, 2 and 2.5.
      shiftSigmaM: close(Math.hypot(1, 1.5)),
      rotationSigmaDeg: close(degrees(2)),
      scaleSigma: close(2.5),
      rmsM: close(13 / Math.sqrt(3)),
      coordinateSigmaM: close(13 / Math.sqrt(2)),
      // Four variances a place, two coordinates: (1 + 3 + 5 + 7)/2 mm².
      statedSigmaM: close(Math.sqrt(8e-6)),
      otherZones: [],
      isCurved: false,
      height: null,
    });
    expect(input({ sigmasAreStated: false }).statedSigmaM).toBeNull();
    expect(input({ curvature: { isCurved: true } }).isCurved).toBe(true);
    expect(input({ curvature: { isCurved: false } }).isCurved).toBe(false);
  });

  it('hold what mirrors the control against a fit to its mirror image', () => {
    expect(input({ horizontalPairs: pairs(true) }).mirroredRmsM).toBeCloseTo(0, 6);
    // The places are no mirror image of themselves: some thirty metres are left.
    expect(input().mirroredRmsM).toBeGreaterThan(10);
  });

  it('know their sigmas where those are stated and borne out, and otherwise by the redundancy', () => {
    const factor = (own: object): object => ({
      horizontalFactor: { applied: 1, isFloored: false, isExceeded: false, ...own },
    });
    expect(input().planSigmas).toEqual(diagnosisSigmas(null));
    expect(input(factor({ isExceeded: true })).planSigmas).toEqual(diagnosisSigmas(2));
    expect(input({ sigmasAreStated: false }).planSigmas).toEqual(diagnosisSigmas(2));
    expect(input({ sigmasAreStated: false, ...factor({ isFloored: true }) }).planSigmas).toEqual(diagnosisSigmas(null));
  });

  it.each([
    [1, diagnosisSigmas(1), close(13)],
    [0, diagnosisSigmas(null), null],
  ])('with a redundancy of %i', (redundancy, planSigmas, coordinateSigmaM) => {
    const horizontal = {
      similarity: {
        scale: 1,
        rotationRad: 0,
        sourceOrigin: { eastM: 0, northM: 0 },
        targetOrigin: { eastM: 0, northM: 0 },
      },
      cofactor: diagonal(4, 9, 16, 25),
      scaleIsFree: true,
      adjustment: { redundancy, residuals: Float64Array.of(3, -4, 12, 0, 0, 0) },
    };
    expect(input({ horizontal, sigmasAreStated: false })).toMatchObject({ planSigmas, coordinateSigmaM });
  });

  it('in height are an offset and a slope in millimetres a kilometre, of a plane or the trend of a surface', () => {
    const adjustment = { redundancy: 4 };
    // 3 and 4 mm a km to the east and north make 5; sigmas of 2 m, and of 3 and 4 mm a km, times the root of 0.25.
    const expected = { offsetM: 0.5, offsetSigmaM: close(1), slopeMmPerKm: close(5), slopeSigmaMmPerKm: close(2) };
    const verticalFactor = { applied: 0.25, isFloored: false, isExceeded: true };
    const plane = {
      kind: 'plane',
      adjustment,
      plane: { offsetM: 0.5, slopeEast: 3e-6, slopeNorth: 4e-6 },
      cofactor: diagonal(4, 9e-12, 16e-12),
    };
    const surface = {
      kind: 'surface',
      adjustment,
      surface: { coefficients: [0.5, 0.003, 0.004], cofactor: diagonal(4, 9e-6, 16e-6) },
    };
    for (const vertical of [plane, surface])
      expect(input({ vertical, verticalFactor }).height).toMatchObject({ ...expected, sigmas: diagnosisSigmas(4) });
    // The larger of both slopes, whichever way it runs; a factor that is not known is one.
    expect(input({ vertical: { ...plane, cofactor: diagonal(4, 36e-12, 16e-12) } }).height).toMatchObject({
      offsetSigmaM: close(2),
      slopeSigmaMmPerKm: close(6),
      sigmas: diagnosisSigmas(null),
    });
    const offset = { ...surface, surface: { coefficients: [0.5], cofactor: [4] } };
    expect(input({ vertical: offset, verticalFactor }).height).toMatchObject({
      offsetM: 0.5,
      offsetSigmaM: close(1),
      slopeMmPerKm: 0,
      slopeSigmaMmPerKm: 0,
    });
  });
});

describe('the page of a site', () => {
  const row = (pointId: string, role: string, verdict: string): object => ({ pointId, role, verdict, reasons: [] });
  const judged = (...rows: readonly object[]): JudgedSite =>
    ({ rows, worst: null, horizontalLimits: { baarda: 3.29 }, verticalLimits: null }) as unknown as JudgedSite;
  const report = (own: object = {}, transform: object = {}, rows: readonly object[] = []): SiteReport =>
    siteReport(
      {
        system: 'EPSG:25832',
        systemName: 'a grid',
        siteAxes: { columns: ['easting_m', 'northing_m'], metresPerUnit: 1 },
        horizontalQuality: { redundancy: 4, varianceFactor: 1.2, sigmasAreStated: true, factor95: 2 },
        verticalQuality: { redundancy: 3, varianceFactor: 0.8, factor95: 3 },
        scaleIsFree: true,
        bufferM: 50,
        heightKind: 'orthometric',
        statements: [],
        transform: {
          horizontal: {
            scale: 1.000_01,
            rotationRad: 0.001,
            sourceOrigin: { eastM: 0, northM: 0 },
            targetOrigin: { eastM: 10, northM: -20 },
          },
          horizontalCovariance: diagonal(4e-6, 9e-6, 16e-12, 25e-12),
          vertical: { origin: { eastM: 0, northM: 0 }, offsetM: 0.5, slopeEast: 3e-6, slopeNorth: -4e-6 },
          verticalCovariance: diagonal(4e-6, 9e-12, 16e-12),
          hull: [],
          verticalHull: null,
          ...transform,
        },
        ...own,
      } as unknown as SiteDocument,
      { spread: { radiusM: 1000, eigenvalueRatio: 0.4 }, vertical: null } as unknown as FittedSite,
      judged(...rows),
      {} as never,
    );
  const parameters = (made: SiteReport): unknown =>
    made.parameters.map(({ name, value, halfWidth95, unit }) => [name.split(/[,;]/u)[0], value, halfWidth95, unit]);

  it('has the parameters with their 95 % half-widths: sigmas of 2 and 3 mm, 4 and 5 ppm, twice', () => {
    expect(parameters(report())).toEqual([
      ['Scale', close(10, 6), close(10, 6), 'ppm'],
      ['Rotation', close(degrees(0.001)), close(degrees(8e-6)), '°'],
      ['Shift east at the middle of the control', 10, close(0.004), 'm'],
      ['Shift north at the middle of the control', -20, close(0.006), 'm'],
      // In height three times: 2 mm, and 3 and 4 mm a km.
      ['Offset in height at the middle', 0.5, close(0.006), 'm'],
      ['Slope of height to the east', close(3), close(9), 'mm/km'],
      ['Slope of height to the north', close(-4), close(12), 'mm/km'],
    ]);
    expect(report().parameters.map(({ decimals }) => decimals)).toEqual([2, 7, 4, 4, 4, 2, 2]);
  });

  it('has no half-width of a scale that was stated, nor where sigmas are not known', () => {
    const [scale] = report({ scaleIsFree: false }).parameters;
    expect([scale?.halfWidth95, scale?.unit]).toEqual([null, 'ppm, as stated']);
    const unknown = report({ horizontalQuality: { factor95: null }, verticalQuality: null });
    expect(unknown.parameters.every(({ halfWidth95 }) => halfWidth95 === null)).toBe(true);
    expect(unknown).toMatchObject({ redundancyHeight: null, varianceHeight: null });
    expect(report({}, { vertical: null, verticalCovariance: null }).parameters).toHaveLength(4);
    expect(report()).toMatchObject({ redundancyPlan: 4, redundancyHeight: 3, variancePlan: 1.2, varianceHeight: 0.8 });
  });

  it('counts points by what they are for and their verdicts, and keeps those to look at', () => {
    const rows = [row('F', 'fit', 'within'), row('G', 'fit', 'no'), row('C', 'check', 'review')];
    expect(report({}, {}, rows).counts).toEqual({ fit: 2, check: 1, no: 1, review: 1 });
    const many = Array.from({ length: 2000 }, (_, index) => row(`P${String(index)}`, 'fit', 'within'));
    const kept = report({}, {}, [...many, row('S', 'fit', 'no')]).rows;
    expect(kept).toHaveLength(2000);
    expect(kept.at(-1)?.pointId).toBe('S');
  });

  it('shows how sigmas grow, to three times the reach of the control, in the worst direction', () => {
    const { reach } = report();
    expect(reach).toHaveLength(61);
    expect([reach[0]?.distanceM, reach[20]?.distanceM, reach[60]?.distanceM]).toEqual([0, close(1000), close(3000)]);
    // At the middle the larger shift, 3 mm; in height the offset, 2 mm.
    expect(reach[0]).toMatchObject({ horizontalM: close(0.003), heightM: close(0.002) });
    // At 3 km, with 4 and 5 ppm of it: the worst is √(9 mm² + (15 mm)²); a slope of 4 mm a km to the north makes √(4 + 12²).
    expect(reach[60]).toMatchObject({
      horizontalM: close(Math.sqrt(9 + 225) / 1000, 6),
      heightM: close(Math.sqrt(4 + 144) / 1000, 6),
    });
    expect(report({}, { vertical: null, verticalCovariance: null }).reach[60]?.heightM).toBeNull();
  });

  it('draws the control in the coordinates of the site', () => {
    const { hull } = report(
      {},
      {
        horizontal: {
          scale: 1,
          rotationRad: 0,
          sourceOrigin: { eastM: 0, northM: 0 },
          targetOrigin: { eastM: 10, northM: -20 },
        },
        hull: [{ eastM: 1, northM: 2 }],
      },
    );
    expect(hull).toEqual([{ first: 11, second: -18 }]);
  });
});

describe('a site from which nothing may be concluded', () => {
  const before = {
    rows: [
      { pointId: 'A', verdict: 'within', reasons: [] },
      { pointId: 'B', verdict: 'no', reasons: ['site-outlier'] },
      { pointId: 'C', verdict: 'within', reasons: [] },
    ],
    worst: { pointId: 'B' },
  } as unknown as JudgedSite;
  it('has no point within, and of those whose names look exchanged it says no', () => {
    const of = (...exchanged: readonly string[]): unknown => {
      const { rows, worst } = withoutConclusions(before, exchanged);
      return [rows.map(({ verdict }) => verdict), worst?.pointId ?? null];
    };
    expect(of()).toEqual([['review', 'no', 'review'], 'B']);
    expect(of('A', 'C')).toEqual([['no', 'no', 'no'], null]);
    expect(of('A')).toEqual([['no', 'no', 'review'], null]);
  });
});
