import type { FileUnit } from '../../../records/settings/column-reading.js';
import { entryAt, present } from '../../../records/present.js';

/** Words that name a unit in a header, by what they measure. */
const LENGTHS: readonly string[] = [
  'm',
  'mm',
  'cm',
  'dm',
  'km',
  'ft',
  'feet',
  'foot',
  'usft',
  'ftus',
  'intft',
  'ift',
  'yd',
  'in',
  'inch',
  'inches',
  'link',
  'links',
  'chain',
  'chains',
];
const ANGLES: readonly string[] = [
  'deg',
  'degrees',
  'dms',
  'gon',
  'grad',
  'grads',
  'grade',
  'rad',
  'radian',
  'radians',
  'arcsec',
  'mas',
];
const TIMES: readonly string[] = ['s', 'sec', 'ms', 'us', 'min', 'minutes'];

/** Words of a header that go with a column of ours, by the end of its name; any other unit contradicts it. */
const OWN_UNITS: readonly (readonly [RegExp, readonly string[]])[] = [
  [/_us_survey_ft$/u, ['ft', 'feet', 'foot', 'usft', 'ftus']],
  [/_international_ft$/u, ['ft', 'feet', 'foot', 'intft', 'ift']],
  [/_m$/u, ['m']],
  [/_deg$/u, ['deg', 'degrees', 'dms']],
  [/_s$/u, ['s', 'sec']],
];

/** Words of a header that go with a unit that is said of its cells. */
const SAID_UNITS: Readonly<Record<FileUnit, readonly string[]>> = {
  m: ['m'],
  cm: ['cm'],
  mm: ['mm'],
  ft: ['ft', 'feet', 'foot', 'intft', 'ift'],
  usft: ['ft', 'feet', 'foot', 'usft', 'ftus'],
  deg: ['deg', 'degrees', 'dms'],
  gon: ['gon', 'grad', 'grads', 'grade'],
  rad: ['rad', 'radian', 'radians'],
  dms: ['dms', 'deg', 'degrees'],
};

/** Words of which one excludes the other: kinds of height, of axis, of direction. */
const KINDS: readonly (readonly (readonly string[])[])[] = [
  [
    ['ellipsoidal', 'ellipsoid', 'ellip', 'ell', 'ellh', 'ellheight', 'hae'],
    ['orthometric', 'ortho', 'msl', 'elevation', 'elev'],
    ['geoid', 'undulation', 'separation'],
  ],
  [
    ['latitude', 'lat'],
    ['longitude', 'long', 'lon', 'lng'],
  ],
  [
    ['easting', 'east'],
    ['northing', 'north'],
    ['westing', 'west'],
    ['southing', 'south'],
  ],
  [
    ['horizontal', 'hz'],
    ['vertical', 'up'],
  ],
];

/**
 * What in the name of a column says that it does not hold a quantity of ours: another unit, or another kind.
 *
 * Given: our name, such as `ellipsoidal_height_m`; the file's header; the unit that is said of its cells, if any, which counts in place
 * of that of our name. Returned: the word of the header, or null where nothing in it contradicts.
 */
export function contradiction(
  name: string,
  header: string,
  said?: FileUnit,
): { readonly word: string; readonly what: 'unit' | 'kind' } | null {
  const words = wordsIn(header);
  const units = said === undefined ? OWN_UNITS.find(([end]) => end.test(name))?.[1] : SAID_UNITS[said];
  if (units !== undefined) {
    const word = words.find((found) => isUnit(found, name) && !units.includes(found));
    if (word !== undefined) return { word, what: 'unit' };
  }
  const own = wordsIn(name);
  for (const family of KINDS) {
    const mine = family.filter((group) => group.some((word) => own.includes(word)));
    if (mine.length !== 1) continue;
    const groups = family.filter((group) => group.some((word) => words.includes(word)));
    if (groups.length > 0 && !groups.some((group) => mine.includes(group))) {
      return {
        word: present(
          words.find((word) => entryAt(groups, 0).includes(word)),
          'the word that a group was found by',
        ),
        what: 'kind',
      };
    }
  }
  return null;
}

/** Short words may be anything but a unit where the quantity is of another sort: `s` in a length is no second. */
function isUnit(word: string, name: string): boolean {
  if (LENGTHS.includes(word)) return word !== 'in';
  if (ANGLES.includes(word)) return true;
  return name.endsWith('_s') && TIMES.includes(word);
}

/** The words of a name, in small letters: parted by anything but letters, and where a capital follows a small letter. */
function wordsIn(name: string): readonly string[] {
  const words = name
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .toLowerCase()
    .split(/\P{L}+/u)
    .filter((word) => word !== '');
  // "US ft", "us_ft", "survey ft" are one unit.
  return words;
}
