import { describe, expect, it } from 'vitest';
import { headerForm, isUnitCell, plainLetters } from '../../../../src/tasks/draft/columns/header-form.js';

describe('headerForm', () => {
  it.each<readonly [string, string, string]>([
    // Header, what it says, its unit.
    ['Easting', 'easting', ''],
    ['Easting [m]', 'easting', 'm'],
    ['(m) Easting', 'easting', 'm'],
    ['Pole height {ft}', 'pole height', 'ft'],
    ['Height <usft> above', 'height above', 'usft'],
    ['EllipsoidalHeight', 'ellipsoidal height', ''],
    ['pole_height_m', 'pole height', 'm'],
    ['Height US ft', 'height', 'us ft'],
    ['Height survey feet', 'height', 'us feet'],
    ['Height of us ft', 'height of', 'us ft'],
    ['Tilt gon', 'tilt', 'gon'],
    // A word alone is no unit of anything.
    ['m', 'm', ''],
    ['us ft', '', 'us ft'],
    ['Höhe (Fuß)', 'hohe', 'fuss'],
    ['', '', ''],
  ])('of "%s" are the words and the unit', (header, phrase, unit) => {
    const form = headerForm(header);
    expect([form.phrase, form.unit]).toEqual([phrase, unit]);
    expect(form.words.join(' ')).toBe(phrase);
  });

  it('takes the unit from brackets before one beneath, and that before a last word', () => {
    expect(headerForm('Height [ft]', 'm').unit).toBe('ft');
    expect(headerForm('Height ft', 'm')).toMatchObject({ phrase: 'height', unit: 'm' });
    expect(headerForm('Height', 'survey feet').unit).toBe('survey feet');
  });
});

it('plainLetters knows letters by their sound', () => {
  expect(plainLetters('Großer Łódź Øre Ægir Élan')).toBe('grosser lodz ore aegir elan');
});

describe('isUnitCell', () => {
  it.each<readonly [string, boolean]>([
    ['m', true],
    ['[m]', true],
    ['us survey ft', true],
    ['ddmmss', true],
    ['yyyy-mm-dd hh', false],
    ['yyyy mm dd', true],
    ['metres above the geoid', false],
    ['name', false],
    ['', false],
    ['12', false],
  ])('of "%s" is %s', (cell, expected) => {
    expect(isUnitCell(cell)).toBe(expected);
  });
});
