import { describe, expect, it } from 'vitest';
import { columnProfiles } from '../../../../src/tasks/draft/columns/column-profile.js';
import type { ColumnProfile } from '../../../../src/tasks/draft/columns/column-profile.js';
import { guessAngle } from '../../../../src/tasks/draft/guesses/guess-angle.js';
import type { AngleGuess } from '../../../../src/tasks/draft/guesses/guess-angle.js';

const column = (header: string, cells: readonly string[]): ColumnProfile =>
  columnProfiles(
    [header],
    null,
    cells.map((cell) => [cell]),
    false,
  )[0] as ColumnProfile;
const guess = (
  axis: 'latitude' | 'longitude',
  header: string,
  cells: readonly string[],
  beside: AngleGuess['writing'] = null,
): AngleGuess => guessAngle(column(header, cells), axis, false, null, beside);

const near = (degrees: readonly number[]): unknown => degrees.map((value) => expect.closeTo(value, 9) as number);
const degrees = (d: number, m: number, s = 0): number => d + m / 60 + s / 3600;

describe('decimal degrees', () => {
  it.each<readonly ['latitude' | 'longitude', readonly string[], readonly number[] | null]>([
    ['latitude', ['0', '-0.5', '90', '-90'], [0, -0.5, 90, -90]],
    ['latitude', ['90.1'], null],
    ['latitude', ['-90.1'], null],
    ['longitude', ['180', '-180', '12.5'], [180, -180, 12.5]],
    ['longitude', ['-180.1'], null],
    // East of the 180th meridian counts on.
    ['longitude', ['180.5', '359', '360'], [-179.5, -1, 0]],
    ['longitude', ['360.5'], null],
    ['latitude', ['45', 'north'], null],
  ])('of a %s: %j', (axis, cells, expected) => {
    const found = guess(axis, axis, cells);
    expect(found.degrees).toEqual(expected);
    expect(found.writing).toBe(expected === null ? null : 'deg');
    expect(found.value).toEqual(expected === null ? { header: axis, unit: '?' } : axis);
    if (expected !== null) expect(found.why).toEqual([`decimal degrees such as ${cells[0] as string}`]);
  });

  it('may have marks between degrees, minutes and seconds', () => {
    const found = guess('latitude', 'lat', [`47°30'36"N`, `47°30'36"S`]);
    expect(found.degrees).toEqual(near([degrees(47, 30, 36), -degrees(47, 30, 36)]));
    expect(found.why).toEqual([`degrees, minutes and seconds set apart, such as 47°30'36"N`]);
  });
});

describe('what the header says', () => {
  it.each<readonly [string, readonly string[], string, readonly number[]]>([
    ['lat [gon]', ['50', '52.5'], 'gon', [45, 47.25]],
    ['lat (rad)', ['0.5', '-0.5'], 'rad', [0.5, -0.5].map((value) => (value * 180) / Math.PI)],
    ['lat dd.mmss', ['47.3036'], 'D.MMSS', [degrees(47, 30, 36)]],
    ['lat ddmmss', ['473036', '-013036'], 'DDMMSS', [degrees(47, 30, 36), -degrees(1, 30, 36)]],
    ['lat ddmm', ['4730.6', '0130.6'], 'DDMM', [degrees(47, 30.6), degrees(1, 30.6)]],
    ['lat [dms]', ['47.3036', '48.0000'], 'D.MMSS', [degrees(47, 30, 36), 48]],
    ['lat [dms]', ['473036.5'], 'DDMMSS', [degrees(47, 30, 36.5)]],
    ['lat [gms]', ['4730.25'], 'DDMM', [degrees(47, 30.25)]],
  ])('%s of %j is %s', (header, cells, writing, expected) => {
    const found = guess('latitude', header, cells);
    expect(found.writing).toBe(writing);
    expect(found.degrees).toEqual(near(expected));
    expect(found.why[0]).toMatch(/^the header says /u);
    const unit = writing === 'gon' || writing === 'rad' ? { unit: writing } : { unit: 'dms', form: writing };
    expect(found.value).toEqual({ header, ...unit });
  });

  it('is not believed where the values are none', () => {
    // 65 minutes are none, and so no degrees, minutes and seconds after a point.
    expect(guess('latitude', 'lat [dms]', ['47.6500']).writing).toBe('deg');
    // More than 100 gon are beyond a pole.
    expect(guess('latitude', 'lat [gon]', ['101']).writing).toBeNull();
    expect(guess('longitude', 'lon [dms]', ['north']).writing).toBeNull();
  });

  it('takes as many degrees before a point as the axis has', () => {
    expect(guess('longitude', 'lon [dms]', ['121.3036']).writing).toBe('D.MMSS');
    expect(guess('latitude', 'lat [dms]', ['90.0000'])).toMatchObject({ degrees: [90], writing: 'D.MMSS' });
    // The other axis is in degrees, which says nothing of digits that run together.
    expect(guess('longitude', 'lon', ['1213036'], 'deg').writing).toBe('DDMMSS');
    // Marks and a plain number: not decimal degrees alone.
    expect(guess('latitude', 'lat', ['47.5', `47°30'`]).why[0]).toMatch(/^degrees, minutes and seconds set apart/u);
    expect(guess('longitude', 'lon [dms]', ['1213036']).writing).toBe('DDMMSS');
  });
});

describe('degrees and minutes run together', () => {
  it('are found where no value could be degrees of either axis', () => {
    expect(guess('latitude', 'lat', ['4730.6', '0130.6'])).toMatchObject({
      writing: 'DDMM',
      degrees: near([degrees(47, 30.6), degrees(1, 30.6)]) as readonly number[],
      why: ['values such as 4730.6 are no degrees, and all are degrees and minutes run together'],
    });
    expect(guess('latitude', 'lat', ['473036', '463036'])).toMatchObject({
      writing: 'DDMMSS',
      why: ['values such as 473036 are no degrees, and all are degrees, minutes and seconds run together'],
    });
    // Up to 360 they could be a longitude in the wrong column.
    expect(guess('latitude', 'lat', ['130', '360']).writing).toBeNull();
  });

  it('of five digits are what the other axis is', () => {
    const cells = ['13036.5', '13059.5'];
    expect(guess('longitude', 'lon', cells)).toMatchObject({
      writing: null,
      value: { header: 'lon', unit: '?' },
      why: [
        'values such as 13036.5: no longitude in degrees',
        'write "gon", "rad", or "dms" with form = "DDMMSS", "DDMM" or "D.MMSS"',
      ],
    });
    expect(guess('longitude', 'lon', cells, 'DDMM').degrees).toEqual(near([degrees(130, 36.5), degrees(130, 59.5)]));
    expect(guess('longitude', 'lon', cells, 'DDMMSS').degrees).toEqual(
      near([degrees(1, 30, 36.5), degrees(1, 30, 59.5)]),
    );
    expect(guess('longitude', 'lon', cells, 'deg').writing).toBeNull();
  });

  it('have their letter from the column beside them', () => {
    const [angle, letter] = columnProfiles(
      ['lat', 'ns'],
      null,
      [
        ['4730.6', 'S'],
        ['0130.6', 'N'],
      ],
      false,
    ) as [ColumnProfile, ColumnProfile];
    const found = guessAngle(angle, 'latitude', false, letter);
    expect(found.degrees).toEqual(near([-degrees(47, 30.6), degrees(1, 30.6)]));
    expect(found.value).toEqual({ header: ['lat', 'ns'], unit: 'dms', form: 'DDMM' });
  });
});
