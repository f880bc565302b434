import { describe, expect, it } from 'vitest';
import { GRS80, WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../../../src/core/ellipsoid/geocentric.js';
import { moveByVelocity, movePoint, plateVelocity } from '../../../../src/core/frames/plates/plate-motion.js';
import { geocentricToLocal, localFrameAt } from '../../../../src/core/ellipsoid/local-frame.js';
import { PLATE_MODELS, PLATE_MODEL_KEYS } from '../../../../src/core/frames/plates/plate-models.js';
import type { PlateModelKey } from '../../../../src/core/frames/plates/plate-models.js';
import { platePole } from '../../../../src/core/frames/plates/plate-pole.js';
import type { PlatePole } from '../../../../src/core/frames/plates/plate-pole.js';
import type { GeocentricPoint } from '../../../../src/records/points/point.js';
import { hasProgram, numbersOf, runProgram } from '../../../support/external-programs.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';
import { apartM, geocentricOf, valueOf } from '../../../support/shift-of-row.js';

const EVERY_POLE = PLATE_MODEL_KEYS.flatMap((key) => PLATE_MODELS[key].poles);

const rateOf = (pole: PlatePole): number =>
  Math.hypot(pole.omegaXMasPerYear, pole.omegaYMasPerYear, pole.omegaZMasPerYear);
const rates = readReferenceTable('plates')
  .filter((row) => row.text('omega_deg_per_myr') !== '')
  .map((row) => ({ name: row.case, row }));

describe('the poles of the plate model', () => {
  it.each(rates)('$name is as printed', ({ row }) => {
    const pole = valueOf(platePole(row.text('plate')));
    expect(Math.abs(rateOf(pole) / 3.6 - row.number('omega_deg_per_myr'))).toBeLessThanOrEqual(row.tolerance);
  });

  it('are eleven, each checked', () => {
    expect(PLATE_MODELS.itrf2014.poles.length).toBe(11);
    expect(rates.length).toBe(11);
  });

  it('are found by name or code, whatever the case, and an unknown name is answered with the nearest', () => {
    expect(valueOf(platePole('north american')).code).toBe('NOAM');
    expect(valueOf(platePole('Nubi')).name).toBe('Nubian');
    const problem = platePole('Nubain').problems[0];
    expect(problem?.code).toBe('plate-unknown');
    expect(problem?.hint).toContain('Nubian');
  });
});

describe('the velocity of a place', () => {
  const rows = readReferenceTable('plate-velocities').map((row) => ({ name: row.case, row }));
  it.each(rows)('$name', ({ row }) => {
    const [latitudeDeg, longitudeDeg] = [row.number('latitude_deg'), row.number('longitude_deg')];
    const place = geodeticToGeocentric(
      { latitudeDeg, longitudeDeg, ellipsoidalHeightM: row.number('ellipsoidal_height_m') },
      GRS80,
    );
    const pole = valueOf(platePole(row.text('plate'), row.text('model') as PlateModelKey));
    const { xMPerYear, yMPerYear, zMPerYear } = plateVelocity(place, pole);
    const frame = localFrameAt(latitudeDeg, longitudeDeg);
    const local = geocentricToLocal(frame, { xM: xMPerYear, yM: yMPerYear, zM: zMPerYear });
    expect(Math.abs(local.eastM * 1000 - row.number('east_mm_per_year'))).toBeLessThanOrEqual(row.tolerance);
    expect(Math.abs(local.northM * 1000 - row.number('north_mm_per_year'))).toBeLessThanOrEqual(row.tolerance);
    const rotation = { ...pole, originRate: null };
    const turned = plateVelocity(place, rotation);
    const without = { xM: turned.xMPerYear, yM: turned.yMPerYear, zM: turned.zMPerYear };
    // Nothing of the origin rate goes into the height: what is left over is that of the turn about another centre.
    expect(Math.abs(local.upM - geocentricToLocal(frame, without).upM)).toBeLessThan(1e-12);
  });
});

describe('moving along a plate', () => {
  const point = geodeticToGeocentric({ latitudeDeg: -25.89, longitudeDeg: 27.69, ellipsoidalHeightM: 1414 }, WGS84);

  it('goes north-east by about 25 mm a year in southern Africa', () => {
    const v = plateVelocity(point, valueOf(platePole('NUBI')));
    const speed = Math.hypot(v.xMPerYear, v.yMPerYear, v.zMPerYear);
    expect(speed).toBeGreaterThan(0.022);
    expect(speed).toBeLessThan(0.028);
    expect(v.zMPerYear).toBeGreaterThan(0.01);
  });

  it('and back, a hundred times over 33 years, ends where it began', () => {
    for (const pole of EVERY_POLE) {
      let p: GeocentricPoint = point;
      for (let i = 0; i < 100; i += 1) p = movePoint(movePoint(p, pole, 1994, 2026.9), pole, 2026.9, 1994);
      expect(apartM(p, point)).toBeLessThan(1e-6);
    }
  });

  it('differs from the straight line of its velocity by less than a micrometre in 33 years', () => {
    for (const pole of EVERY_POLE) {
      const straight = moveByVelocity(point, plateVelocity(point, pole), 1994, 2026.9);
      expect(apartM(movePoint(point, pole, 1994, 2026.9), straight)).toBeLessThan(1e-6);
    }
  });

  it('stays where it is over no time', () => {
    expect(movePoint(point, valueOf(platePole('EURA')), 2020, 2020)).toEqual(point);
  });
});

/** How far apart two positions are in east and north: the vertical part of an origin rate is discarded here and not by cct. */
function levelApartM(one: GeocentricPoint, other: GeocentricPoint): number {
  const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(one, GRS80);
  const difference = { xM: other.xM - one.xM, yM: other.yM - one.yM, zM: other.zM - one.zM };
  const { eastM, northM } = geocentricToLocal(localFrameAt(latitudeDeg, longitudeDeg), difference);
  return Math.max(Math.abs(eastM), Math.abs(northM));
}

describe.skipIf(!hasProgram('cct'))('a thousand random points against cct (skipped where cct is absent)', () => {
  it('agree to 0.01 mm over 33 years, for every plate', () => {
    const random = seededRandom(7);
    const points = Array.from({ length: 1000 }, () =>
      geodeticToGeocentric(
        {
          latitudeDeg: random.between(-90, 90),
          longitudeDeg: random.between(-180, 180),
          ellipsoidalHeightM: random.between(0, 3000),
        },
        WGS84,
      ),
    );
    const input = points.map((p) => `${p.xM.toFixed(9)} ${p.yM.toFixed(9)} ${p.zM.toFixed(9)} 2026.9`).join('\n');
    for (const pole of EVERY_POLE) {
      const lines = runProgram(
        'cct',
        [
          '-d',
          '8',
          '+proj=helmert',
          '+convention=position_vector',
          '+t_epoch=1994',
          `+drx=${String(pole.omegaXMasPerYear / 1000)}`,
          `+dry=${String(pole.omegaYMasPerYear / 1000)}`,
          `+drz=${String(pole.omegaZMasPerYear / 1000)}`,
          ...(pole.originRate === null ? [] : ['+dx=0.00037', '+dy=0.00035', '+dz=0.00074']),
        ],
        `${input}\n`,
      );
      expect(lines.length).toBe(1000);
      const apart = lines.map((line, i) => {
        const ours = movePoint(points[i] as GeocentricPoint, pole, 1994, 2026.9);
        const theirs = geocentricOf(numbersOf(line));
        return pole.originRate === null ? apartM(theirs, ours) : levelApartM(theirs, ours);
      });
      expect(Math.max(...apart)).toBeLessThan(1e-5);
    }
  });
});
