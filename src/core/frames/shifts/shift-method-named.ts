import { InternalError } from '../../../records/internal-error.js';
import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { nearestWord } from '../../numeric/text/nearest-word.js';
import { SHIFT_METHODS } from './shift-methods.js';
import type { RotationConvention } from './shift-definition.js';
import type { ShiftMethodEntry } from './shift-methods.js';

/** What a method name says: the kind of formula, and the convention where the name carries one. */
interface MethodFamily {
  readonly name: string;
  readonly convention: RotationConvention | null;
  readonly timeDependent: boolean;
  readonly pivoted: boolean;
  readonly turns: boolean;
}

const FAMILIES: readonly MethodFamily[] = [
  { name: 'geocentric translations', convention: null, timeDependent: false, pivoted: false, turns: false },
  { name: 'helmert', convention: null, timeDependent: false, pivoted: false, turns: true },
  {
    name: 'position vector transformation',
    convention: 'position-vector',
    timeDependent: false,
    pivoted: false,
    turns: true,
  },
  {
    name: 'coordinate frame rotation',
    convention: 'coordinate-frame',
    timeDependent: false,
    pivoted: false,
    turns: true,
  },
  { name: 'time-dependent helmert', convention: null, timeDependent: true, pivoted: false, turns: true },
  {
    name: 'time-dependent position vector tfm',
    convention: 'position-vector',
    timeDependent: true,
    pivoted: false,
    turns: true,
  },
  {
    name: 'time-dependent coordinate frame rotation',
    convention: 'coordinate-frame',
    timeDependent: true,
    pivoted: false,
    turns: true,
  },
  { name: 'molodensky-badekas', convention: null, timeDependent: false, pivoted: true, turns: true },
];

/**
 * The method that a shift file names.
 *
 * Given: the name of the EPSG method (the domain in brackets, case and spacing do not matter), or
 * its code as `EPSG:1053`; the rotation convention the file states, or null.
 * Returned: the entry of `SHIFT_METHODS`.
 * Errors: config-invalid-value for an unknown name (with the nearest) and where name and stated
 * convention contradict each other; shift-convention-missing where the method has rotations and
 * the file states no convention, even if the name would say it.
 */
export function shiftMethodNamed(text: string, stated: RotationConvention | null): Outcome<ShiftMethodEntry> {
  const family = familyOf(text);
  if (family === null) {
    const near = nearestWord(
      plainName(text),
      FAMILIES.map((entry) => entry.name),
      8,
    );
    return failure(
      errorProblem('config-invalid-value', {
        message: `no shift method is called ${text}`,
        received: text,
        expected: FAMILIES.map((entry) => entry.name).join(', '),
        hint: /topocentric|983[67]$/iu.test(text)
          ? 'topocentric coordinates are no shift: transform --topocentric-at LAT,LON,H'
          : near === null
            ? 'docs/shift-files.md lists the methods'
            : `did you mean ${near}?`,
      }),
    );
  }
  if (family.turns && stated === null) {
    return failure(
      errorProblem('shift-convention-missing', {
        message: `the method ${text} has rotations and rotation_convention is not set`,
        expected: 'position-vector or coordinate-frame',
        hint: 'take it from the publisher of the parameters; the wrong one moves points by metres',
      }),
    );
  }
  if (family.convention !== null && family.convention !== stated) {
    return failure(
      errorProblem('config-invalid-value', {
        message: `the method ${text} does not go with the rotation convention ${String(stated)}`,
        received: String(stated),
        expected: family.convention,
      }),
    );
  }
  const convention = family.turns ? stated : null;
  for (const entry of SHIFT_METHODS) {
    if (
      entry.convention === convention &&
      entry.timeDependent === family.timeDependent &&
      entry.pivoted === family.pivoted
    ) {
      return success(entry);
    }
  }
  throw new InternalError(`the method ${text} has no entry`);
}

function familyOf(text: string): MethodFamily | null {
  const code = /^epsg:(\d+)$/i.exec(text.trim());
  if (code !== null) {
    for (const entry of SHIFT_METHODS) {
      if (
        [entry.geocentricCode, entry.geographic3dCode, entry.geographic2dCode].map(String).includes(code[1] as string)
      ) {
        return {
          name: entry.name,
          convention: entry.convention,
          timeDependent: entry.timeDependent,
          pivoted: entry.pivoted,
          turns: entry.convention !== null,
        };
      }
    }
    return null;
  }
  const plain = plainName(text);
  for (const family of FAMILIES) if (plainName(family.name) === plain) return family;
  const badekas = /^molodensky badekas (pv|cf)$/.exec(plain);
  if (badekas === null) return null;
  const convention = badekas[1] === 'pv' ? 'position-vector' : 'coordinate-frame';
  return { name: 'molodensky-badekas', convention, timeDependent: false, pivoted: true, turns: true };
}

/** Lower case, single spaces, without the domain in brackets and without words that all names share. */
function plainName(text: string): string {
  const bracket = /\(\s*(pv|cf)\b/i.exec(text);
  return `${text.split('(', 1).join('')} ${bracket === null ? '' : (bracket[1] as string)}`
    .toLowerCase()
    .replace(/[-_\s]+/g, ' ')
    .replace(/\b(?:transformation|transform|tfm|rotation|7 parameter)\b/g, ' ')
    .replace(/translations\b/g, 'translation')
    .replace(/\s+/g, ' ')
    .trim();
}
