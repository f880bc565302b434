import { describe, expect, it } from 'vitest';
import { SURFACE_DEFAULTS } from '../../../src/tasks/site/surface/surface-settings.js';
import { siteSigma, siteHeightShiftM, transformToSite } from '../../../src/core/adjustment/site/site-transform.js';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import type { GridSystem } from '../../../src/core/grid/systems/grid-system.js';
import type { PointRow } from '../../../src/records/points/point-row.js';
import { fitSite } from '../../../src/tasks/site/fit-site.js';
import type { FittedSite } from '../../../src/tasks/site/fit-site.js';
import { judgeSite } from '../../../src/tasks/site/judge-site.js';
import type { ControlPair } from '../../../src/tasks/site/control/pair-control.js';
import { ownVarianceM2 } from '../../../src/tasks/site/control/shared-base.js';
import { siteTransformOf } from '../../../src/tasks/site/site-document-of.js';
import { siteStatements } from '../../../src/tasks/site/site-statements.js';
import { seededRandom } from '../../support/seeded-random.js';
import type { SeededRandom } from '../../support/seeded-random.js';

// The generator shares nothing with the fit: a site with its own origin and north, control and measurements with normal errors, and
// one error of the base common to all that was measured. Sources of sizes: invented, as a careful day from a base of 10 mm.
const SCALE = 1;
const TURN = 0.31;
const OWN = { plan: 0.008, up: 0.015 };
const CONTROL = { plan: 0.005, up: 0.006 };

interface Made {
  readonly pairs: readonly ControlPair[];
  readonly truth: (east: number, north: number) => readonly [number, number, number];
}

const ROW: Pick<PointRow, 'baseId' | 'place'> = { baseId: 'B1', place: { sourceIndex: 0, line: 1 } };

function makeSite(
  random: SeededRandom,
  baseSigma: { readonly plan: number; readonly up: number },
  isBaseKnown: boolean,
  checks: number,
): Made {
  const truth = (east: number, north: number): readonly [number, number, number] => [
    500 + SCALE * (Math.cos(TURN) * east - Math.sin(TURN) * north),
    900 + SCALE * (Math.sin(TURN) * east + Math.cos(TURN) * north),
    0.4 + 3e-6 * east - 2e-6 * north,
  ];
  const common = [
    baseSigma.plan * random.normal(),
    baseSigma.plan * random.normal(),
    baseSigma.up * random.normal(),
  ] as const;
  const count = 8 + checks;
  const pairs = Array.from({ length: count }, (_, index): ControlPair => {
    const angle = (2 * Math.PI * index) / 8 + 0.3 * random.next();
    const reach = index < 8 ? 1400 + 800 * random.next() : 900 * random.next();
    const [east, north] = [reach * Math.sin(angle), reach * Math.cos(angle)];
    const [x, y, rise] = truth(east, north);
    const id = `C${String(index)}`;
    const stated = { plan: OWN.plan ** 2 + baseSigma.plan ** 2, up: OWN.up ** 2 + baseSigma.up ** 2 };
    const base = isBaseKnown ? { plan: baseSigma.plan ** 2, up: baseSigma.up ** 2 } : { plan: 0, up: 0 };
    const own = ownVarianceM2(stated.plan, base.plan);
    const row = { ...ROW, pointId: id } as PointRow;
    return {
      control: row,
      measured: {
        row,
        station: {
          pointId: id,
          occupation: '',
          code: '',
          place: ROW.place,
          gridFirst: east,
          gridSecond: north,
          latitudeDeg: -31,
          longitudeDeg: 21,
          ellipsoidalHeightM: 1000,
          orthometricHeightM: 970,
        } as unknown as ControlPair['measured']['station'],
      },
      role: index < 8 ? 'fit' : 'check',
      source: {
        eastM: east + common[0] + OWN.plan * random.normal(),
        northM: north + common[1] + OWN.plan * random.normal(),
      },
      target: { eastM: x + CONTROL.plan * random.normal(), northM: y + CONTROL.plan * random.normal() },
      sourceCovariance: { xx: own, xy: 0, yy: own },
      targetCovariance: { xx: CONTROL.plan ** 2, xy: 0, yy: CONTROL.plan ** 2 },
      measuredHeightM: 970 + common[2] + OWN.up * random.normal(),
      controlHeightM: 970 + rise + CONTROL.up * random.normal(),
      heightVarianceM2: ownVarianceM2(stated.up, base.up) + CONTROL.up ** 2,
      shared:
        isBaseKnown && baseSigma.plan > 0
          ? { id: 'B1', names: 'B1', horizontalM2: baseSigma.plan ** 2, verticalM2: baseSigma.up ** 2 }
          : null,
      pointScaleFactor: 1,
      convergenceDeg: 0,
    };
  });
  return { pairs, truth };
}

function fitted(pairs: readonly ControlPair[]): FittedSite {
  const outcome = fitSite(pairs, {
    ellipsoid: GRS80,
    scale: { kind: 'free' },
    vertical: 'plane',
    surface: SURFACE_DEFAULTS,
    allowPoorSpread: false,
  });
  if (!outcome.ok) throw new Error(outcome.problems[0]?.message);
  return outcome.value;
}

// Only its being no other zone is asked of the grid.
const GRID = {
  axes: [
    { columnName: 'easting_m', metresPerUnit: 1 },
    { columnName: 'northing_m', metresPerUnit: 1 },
  ],
  name: 'invented',
  projection: { key: 'none', parameters: [] },
  definition: {},
  forward: () => 'outside',
  southOrientated: false,
} as unknown as GridSystem;

function isNo(pairs: readonly ControlPair[]): boolean {
  const fit = fitted(pairs);
  const judged = judgeSite(fit, siteTransformOf(fit), pairs, { horizontalM: null, verticalM: null });
  return (
    judged.rows.some(({ verdict }) => verdict === 'no') ||
    fit.horizontalFactor.isExceeded ||
    fit.verticalFactor?.isExceeded === true ||
    siteStatements(fit, GRID).problems.some(({ code }) => code === 'site-suspect')
  );
}

/** Parts of places inside the control whose true site place lies within the stated 95 %, in plan and in height. */
function coverage(seed: number, sites: number, isBaseKnown: boolean): readonly [number, number] {
  const random = seededRandom(seed);
  let [plan, up, all] = [0, 0, 0];
  for (let i = 0; i < sites; i += 1) {
    const { pairs, truth } = makeSite(random, { plan: 0.01, up: 0.02 }, isBaseKnown, 0);
    const transform = siteTransformOf(fitted(pairs));
    const [east, north] = [600 * random.normal(), 600 * random.normal()];
    const [x, y, rise] = truth(east, north);
    const found = transformToSite(transform.horizontal, { eastM: east, northM: north });
    const sigma = siteSigma(transform, { eastM: east, northM: north });
    if (((found.eastM - x) / sigma.eastM) ** 2 + ((found.northM - y) / sigma.northM) ** 2 <= 5.991) plan += 1;
    if (
      Math.abs((siteHeightShiftM(transform, { eastM: east, northM: north }) ?? 0) - rise) <=
      1.96 * (sigma.heightM ?? 0)
    )
      up += 1;
    all += 1;
  }
  return [plan / all, up / all];
}

describe('the verdict of a fit', () => {
  it('is no for at most 1.5 % of 1,500 clean sites, with a common error of the base of 10 mm in half of them', () => {
    const random = seededRandom(20_261);
    let alarms = 0;
    for (let i = 0; i < 1500; i += 1) {
      const base = i % 2 === 0 ? { plan: 0.01, up: 0.02 } : { plan: 0, up: 0 };
      if (isNo(makeSite(random, base, true, 2).pairs)) alarms += 1;
    }
    expect(alarms / 1500).toBeLessThanOrEqual(0.015);
  });

  it('is no for a blunder of 80 mm in one control point, in nine of ten sites', () => {
    const random = seededRandom(20_262);
    let found = 0;
    for (let i = 0; i < 200; i += 1) {
      const { pairs } = makeSite(random, { plan: 0.01, up: 0.02 }, true, 2);
      const spoilt = pairs.map((pair, index) =>
        index === 3 && pair.target !== null
          ? { ...pair, target: { ...pair.target, eastM: pair.target.eastM + 0.08 } }
          : pair,
      );
      if (isNo(spoilt)) found += 1;
    }
    expect(found / 200).toBeGreaterThanOrEqual(0.9);
  });
});

describe('the uncertainty of a site inside its control', () => {
  it('holds 93 to 97 % of true places with a common error of 10 mm that the session states', () => {
    const [plan, up] = coverage(20_263, 1500, true);
    for (const part of [plan, up]) {
      expect(part).toBeGreaterThan(0.93);
      expect(part).toBeLessThan(0.97);
    }
  });

  it('holds far fewer where nothing tells of the common error, which is why that is said', () => {
    const [plan] = coverage(20_264, 500, false);
    expect(plan).toBeLessThan(0.7);
    const random = seededRandom(1);
    expect(
      siteStatements(fitted(makeSite(random, { plan: 0.01, up: 0.02 }, false, 0).pairs), GRID).notes.join(),
    ).toContain('taken as independent');
    expect(
      siteStatements(fitted(makeSite(random, { plan: 0.01, up: 0.02 }, true, 0).pairs), GRID).notes.join(),
    ).toContain('share its error, 10 mm in plan and 20 mm in height');
  });
});

describe('points of one base', () => {
  it('check a site without the error that they share with it: a common shift of ten base sigmas is no difference', () => {
    const random = seededRandom(20_265);
    const { pairs } = makeSite(random, { plan: 0.01, up: 0.02 }, true, 3);
    const moved = pairs.map((pair) => ({
      ...pair,
      source: { eastM: pair.source.eastM + 0.1, northM: pair.source.northM },
      measuredHeightM: (pair.measuredHeightM ?? 0) + 0.2,
    }));
    const rowsOf = (list: readonly ControlPair[]): readonly (number | null)[] => {
      const fit = fitted(list);
      return judgeSite(fit, siteTransformOf(fit), list, { horizontalM: null, verticalM: null }).rows.flatMap(
        ({ role, east, height }) => (role === 'check' ? [east?.sigmaM ?? null, height?.sigmaM ?? null] : []),
      );
    };
    expect(isNo(moved)).toBe(false);
    // √(own² + control² + fit²), the fit's own part being about that of one in eight.
    for (const [index, sigma] of rowsOf(moved).entries())
      expect(sigma).toBeLessThan(
        1.2 * (index % 2 === 0 ? Math.hypot(OWN.plan, CONTROL.plan) : Math.hypot(OWN.up, CONTROL.up)),
      );
  });
});

describe('heights over a curve', () => {
  const curved = (random: SeededRandom, bendM: number): readonly ControlPair[] =>
    makeSite(random, { plan: 0, up: 0 }, false, 0).pairs.map((pair) => ({
      ...pair,
      controlHeightM: (pair.controlHeightM ?? 0) + bendM * (pair.source.eastM / 2000) * (pair.source.northM / 2000) * 2,
    }));

  it('are said to follow a surface where they do, for review, and in at most 2 % of level sites', () => {
    const random = seededRandom(20_266);
    let [found, alarms] = [0, 0];
    for (let i = 0; i < 300; i += 1) {
      if (fitted(curved(random, 0.08)).curvature?.isCurved === true) found += 1;
      if (fitted(curved(random, 0)).curvature?.isCurved === true) alarms += 1;
    }
    expect(found / 300).toBeGreaterThan(0.9);
    expect(alarms / 300).toBeLessThanOrEqual(0.02 + 1 / 300);
    const said = siteStatements(fitted(curved(random, 0.3)), GRID).problems;
    expect(said.map(({ code }) => code)).toContain('site-curved');
  });
});

describe('a place that is wrong in both coordinates, no sigma stated', () => {
  it('is found, though each coordinate hides in the scatter that the other makes', () => {
    const random = seededRandom(4451);
    let found = 0;
    for (let i = 0; i < 50; i += 1) {
      const { pairs } = makeSite(random, { plan: 0, up: 0 }, false, 0);
      const none = { xx: 0, xy: 0, yy: 0 };
      const wrong = pairs.map((pair, index): ControlPair => {
        const target = pair.target ?? pair.source;
        return {
          ...pair,
          sourceCovariance: none,
          targetCovariance: none,
          heightVarianceM2: 0,
          target: index === 3 ? { eastM: target.eastM + 0.2, northM: target.northM - 0.2 } : target,
        };
      });
      const fit = fitted(wrong);
      const judged = judgeSite(fit, siteTransformOf(fit), wrong, { horizontalM: null, verticalM: null });
      if (judged.worst?.pointId === 'C3' && judged.worst.what === 'plan') found += 1;
    }
    expect(found).toBeGreaterThanOrEqual(49);
  });
});
