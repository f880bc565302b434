import { describe, expect, it } from 'vitest';
import { GRS80, INTERNATIONAL_1924, WGS84, ellipsoidFrom } from '../../../src/core/ellipsoid/ellipsoid.js';
import { operationByCode } from '../../../src/core/frames/operations/operations.js';
import type { Ellipsoid } from '../../../src/core/ellipsoid/ellipsoid.js';
import type { Shift, ShiftDirection } from '../../../src/core/frames/shifts/shift-definition.js';
import type { GeodeticPoint } from '../../../src/records/points/point.js';
import { angleOf } from '../../support/angle-of.js';
import { hasProgram, numbersOf, runProgram } from '../../support/external-programs.js';
import { placeMover } from '../../support/moved-place.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { seededRandom } from '../../support/seeded-random.js';
import { shiftWith, valueOf } from '../../support/shift-of-row.js';

/** One place by one shift, as `transform` takes it. */
function moved(
  shift: Shift,
  place: GeodeticPoint,
  from: Ellipsoid,
  to: Ellipsoid,
  epochYear: number | null,
  direction: ShiftDirection,
): GeodeticPoint {
  return valueOf(valueOf(placeMover([[shift, direction]], from, to, epochYear))(place));
}

const rows = readReferenceTable('operations').map((row) => ({
  name: row.case,
  row,
  operation: valueOf(operationByCode(row.text('operation'))),
  epoch: row.numberOrNull('epoch_year'),
  source: {
    latitudeDeg: angleOf(row.text('source_latitude_deg'), 'latitude'),
    longitudeDeg: angleOf(row.text('source_longitude_deg'), 'longitude'),
    ellipsoidalHeightM: row.number('source_height_m'),
  },
  target: {
    latitudeDeg: angleOf(row.text('target_latitude_deg'), 'latitude'),
    longitudeDeg: angleOf(row.text('target_longitude_deg'), 'longitude'),
    ellipsoidalHeightM: 0,
  },
}));

describe('published operations on geodetic coordinates', () => {
  it.each(rows)('$name: forward', ({ row, operation, epoch, source, target }) => {
    const found = moved(operation.shift, source, operation.from.ellipsoid, operation.to.ellipsoid, epoch, 'forward');
    expect(Math.abs(found.latitudeDeg - target.latitudeDeg)).toBeLessThanOrEqual(row.tolerance);
    expect(Math.abs(found.longitudeDeg - target.longitudeDeg)).toBeLessThanOrEqual(row.tolerance);
  });

  it.each(rows)('$name: inverse', ({ row, operation, epoch, source, target }) => {
    const found = moved(operation.shift, target, operation.to.ellipsoid, operation.from.ellipsoid, epoch, 'inverse');
    // Without the height of the target side the place is only good to shift × height ÷ radius: 1 mm a 60 m.
    const toleranceDeg = row.tolerance + (operation.shift.heights === 'kept' ? 3e-7 : 0);
    expect(Math.abs(found.latitudeDeg - source.latitudeDeg)).toBeLessThanOrEqual(toleranceDeg);
    expect(Math.abs(found.longitudeDeg - source.longitudeDeg)).toBeLessThanOrEqual(toleranceDeg);
  });
});

describe('heights', () => {
  const ed50 = shiftWith('geocentric-translation', {
    parameters: { txM: 84.87, tyM: 96.49, tzM: 116.95, rxArcsec: 0, ryArcsec: 0, rzArcsec: 0, dsPpm: 0 },
  });
  const northSea = {
    latitudeDeg: angleOf('53 48 33.82 N', 'latitude'),
    longitudeDeg: angleOf('2 07 46.38 E', 'longitude'),
    ellipsoidalHeightM: 73,
  };

  it('are transformed with the rest: WGS 84 to ED50, IOGP-373-7-2 method 9603, example (O-11)', () => {
    const found = moved(ed50, northSea, WGS84, INTERNATIONAL_1924, null, 'forward');
    expect(Math.abs(found.latitudeDeg - angleOf('53 48 36.565 N', 'latitude'))).toBeLessThan(0.0006 / 3600);
    expect(Math.abs(found.longitudeDeg - angleOf('2 07 51.477 E', 'longitude'))).toBeLessThan(0.0006 / 3600);
    expect(Math.abs(found.ellipsoidalHeightM - 28.02)).toBeLessThan(0.0051);
  });

  it('are transformed with the rest: WGS 72 to WGS 84, IOGP-373-7-2 method 1037, example (O-13)', () => {
    const wgs72 = ellipsoidFrom('WGS 72', 6378135, 298.26);
    const shift = shiftWith('position-vector', {
      parameters: { txM: 0, tyM: 0, tzM: 4.5, rxArcsec: 0, ryArcsec: 0, rzArcsec: 0.554, dsPpm: 0.219 },
    });
    const from = { latitudeDeg: 55, longitudeDeg: 4, ellipsoidalHeightM: 0 };
    const found = moved(shift, from, wgs72, WGS84, null, 'forward');
    expect(Math.abs(found.latitudeDeg - 55.0000248847)).toBeLessThan(1e-9);
    expect(Math.abs(found.longitudeDeg - 4.0001538889)).toBeLessThan(1e-9);
    expect(Math.abs(found.ellipsoidalHeightM - 3.2177872472)).toBeLessThan(1e-6);
    expect(Math.abs(found.latitudeDeg - angleOf('55 00 00.090 N', 'latitude'))).toBeLessThan(0.0005 / 3600);
  });

  it('stay as given where a frame has none of its own, while the position is the same', () => {
    const kept = moved({ ...ed50, heights: 'kept' }, northSea, WGS84, INTERNATIONAL_1924, null, 'forward');
    const transformed = moved(ed50, northSea, WGS84, INTERNATIONAL_1924, null, 'forward');
    expect(kept.ellipsoidalHeightM).toBe(73);
    expect(kept.latitudeDeg).toBe(transformed.latitudeDeg);
  });

  it('change by about 0.09 m from GDA94 to GDA2020, though the registry files the operation as 2D', () => {
    const operation = valueOf(operationByCode('EPSG:8048'));
    const alice = { latitudeDeg: -23.67, longitudeDeg: 133.89, ellipsoidalHeightM: 603 };
    const found = moved(operation.shift, alice, GRS80, GRS80, null, 'forward');
    expect(found.ellipsoidalHeightM - 603).toBeGreaterThan(-0.12);
    expect(found.ellipsoidalHeightM - 603).toBeLessThan(-0.06);
  });
});

describe.skipIf(!hasProgram('cct') || !hasProgram('projinfo'))(
  'a thousand random points of an operation against cct (skipped where cct is absent)',
  () => {
    it.each(['EPSG:1504', 'EPSG:1128', 'EPSG:1505', 'EPSG:1314', 'EPSG:8048'])(
      '%s agrees to 0.01 mm on the ground',
      (code) => {
        const operation = valueOf(operationByCode(code));
        const area = operation.shift.area;
        if (area === null) throw new Error('an area is expected');
        const random = seededRandom(operation.codeNumber);
        const points = Array.from({ length: 1000 }, () => ({
          latitudeDeg: random.between(area.southDeg, area.northDeg),
          longitudeDeg: random.between(area.westDeg, area.eastDeg),
          ellipsoidalHeightM: random.between(0, 2000),
        }));
        const pipeline = runProgram('projinfo', ['-q', '-k', 'operation', '-o', 'PROJ', '--single-line', code], '')
          .join('')
          .trim();
        const input = points
          .map((p) => `${p.latitudeDeg.toFixed(13)} ${p.longitudeDeg.toFixed(13)} ${p.ellipsoidalHeightM.toFixed(6)} 0`)
          .join('\n');
        const lines = runProgram('cct', ['-d', '13', ...pipeline.split(' ')], `${input}\n`).map(numbersOf);
        expect(lines.length).toBe(1000);
        const move = valueOf(
          placeMover([[operation.shift, 'forward']], operation.from.ellipsoid, operation.to.ellipsoid, null),
        );
        const worstDeg = points.map((p, i) => {
          const found = valueOf(move(p));
          const [latitude = NaN, longitude = NaN] = lines[i] ?? [];
          return Math.max(Math.abs(found.latitudeDeg - latitude), Math.abs(found.longitudeDeg - longitude));
        });
        expect(Math.max(...worstDeg)).toBeLessThan(9e-11);
      },
    );
  },
);

describe('what cannot be computed', () => {
  it('is refused: an operation that changes with time, without an epoch', () => {
    const { shift } = valueOf(operationByCode('EPSG:6276'));
    expect(placeMover([[shift, 'forward']], GRS80, GRS80, null).problems[0]?.code).toBe('shift-epoch-missing');
  });
});
