import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem, ProblemDetail } from '../../../records/problem.js';
import { distanceToAreaKm, isInsideArea } from './area-of-use.js';
import type { GeographicPair, GridSystem } from './grid-system.js';
import type { AreaOfUse } from '../../projection/definition/system-definition.js';

/** Farther from the area of use than this, another reading of the numbers is looked for. */
const DOUBT_BEYOND_KM = 100;
/**
 * Farther from the area of use than this, no work is done in a system, and another reading of the numbers is evidence enough to
 * refuse them. Nearer, a place outside the area is used as often as it is wrong: the reading is a warning. (our choice)
 */
const EVIDENT_BEYOND_KM = 1000;
const FOOT_M = 0.3048;
/** A constant left off moves a point by a million metres at least; other points are not doubted on its account. */
const CONSTANT_BEYOND_KM = 500;
/** The false northing of southern zones first, then the whole millions that are left off by custom. */
const CONSTANTS_M = [10e6, 3e6, 2e6, 1e6, 4e6, 5e6, 6e6, 7e6, 8e6, 9e6] as const;

/**
 * Whether a grid pair looks like something else: exchanged, of the other sign, in feet, in metres
 * where the system has feet, in degrees, or without a constant that belongs to it.
 *
 * Given: the grid, with its area of use; the pair; the place it stands for, or null where it
 * stands for none; the option that names the system, for the hint. Returned: coordinate-implausible with the reading that would lie in the area of
 * use, an error where the pair stands for no place, looks like degrees, or lies more than 1000 km outside, else a warning; null where
 * the place is within 100 km of it, or no reading fits better.
 */
export function implausiblePair(
  system: GridSystem,
  first: number,
  second: number,
  place: Readonly<GeographicPair> | null,
  option: '--from' | '--system' = '--from',
): Problem | null {
  const area = system.areaOfUse;
  if (
    area === null ||
    (place !== null && distanceToAreaKm(area, place.latitudeDeg, place.longitudeDeg) <= DOUBT_BEYOND_KM)
  )
    return null;
  const [a, b] = system.axes;
  const reading =
    readingOf(system, area, first, second, option) ?? constantOf(system, area, first, second, place, option);
  if (reading === null) return null;
  const beyondKm =
    place === null || reading.isEvident === true
      ? Infinity
      : distanceToAreaKm(area, place.latitudeDeg, place.longitudeDeg);
  return doubt('coordinate-implausible', beyondKm, {
    message: `${a.name} ${String(first)}, ${b.name} ${String(second)} lies far outside the area of use of ${system.name}, and as a guess ${reading.what}`,
    received: `${String(first)}, ${String(second)}`,
    hint: reading.mend,
  });
}

/** Another reading of a pair. `isEvident`: the numbers themselves speak for it, however far away they lie. */
interface Reading {
  readonly what: string;
  readonly mend: string;
  readonly isEvident?: boolean;
}

/** A refusal where the place lies so far outside that it is evident, else a warning. */
function doubt(
  code: 'coordinate-implausible' | 'coordinates-swapped',
  beyondKm: number,
  detail: ProblemDetail,
): Problem {
  return (beyondKm > EVIDENT_BEYOND_KM ? errorProblem : warningProblem)(code, detail);
}

/**
 * The doubt about a position that its owner stands by: with `accepts` a refusal becomes a warning. A pair that stands for
 * no place at all stays refused elsewhere.
 */
export function doubtOfAccepted<T extends Problem | null>(problem: T, accepts: boolean): T | Problem {
  if (problem?.severity !== 'error') return problem;
  if (accepts) return { ...problem, severity: 'warning', hint: 'accepted as it stands, on request' };
  return {
    ...problem,
    hint: `${problem.hint === undefined ? '' : `${problem.hint}; `}--accept-position takes it as it stands`,
  };
}

function readingOf(system: GridSystem, area: AreaOfUse, first: number, second: number, option: string): Reading | null {
  const [a, b] = system.axes;
  if (Math.abs(first) <= 180 && Math.abs(second) <= 180) {
    const inside = (latitude: number, longitude: number): boolean =>
      Math.abs(latitude) <= 90 && isInsideArea(area, latitude, longitude);
    if (inside(second, first) || inside(first, second)) {
      return {
        what: 'looks like degrees',
        mend: `name the geographic system the file is in with ${option}, and map latitude_deg and longitude_deg with --columns`,
        isEvident: true,
      };
    }
  }
  const out: GeographicPair = { latitudeDeg: 0, longitudeDeg: 0 };
  const fits = (x: number, y: number): boolean =>
    system.inverse(x, y, out) === 'ok' && isInsideArea(area, out.latitudeDeg, out.longitudeDeg);
  const exchange = {
    what: 'lies inside with the two exchanged',
    mend: `exchange the two with --columns, such as --columns ${a.columnName}=${b.columnName},${b.columnName}=${a.columnName}`,
  };
  if (fits(second, first)) return exchange;
  if (fits(-first, -second)) {
    return {
      what: 'lies inside with the opposite signs',
      mend: `is the file in a system whose axes point the other way? name that system with ${option}`,
    };
  }
  if (fits(-second, -first))
    return { what: 'lies inside with the two exchanged and the opposite signs', mend: exchange.mend };
  const feet = system.axes[0].metresPerUnit === 1;
  const factor = feet ? FOOT_M : 1 / system.axes[0].metresPerUnit;
  if (fits(first * factor, second * factor)) {
    return feet
      ? {
          what: 'lies inside if the numbers are feet',
          mend: 'name the system in feet, or convert the file: the kinds of foot differ by metres here, so find out which one it is',
        }
      : {
          what: 'lies inside if the numbers are metres',
          mend: `the system is in ${system.axes[0].unitName}: name the system in metres with ${option}`,
        };
  }
  return null;
}

/** A false northing or whole millions left off the second coordinate, or added to it. */
function constantOf(
  system: GridSystem,
  area: AreaOfUse,
  first: number,
  second: number,
  place: Readonly<GeographicPair> | null,
  option: string,
): ReturnType<typeof readingOf> {
  const b = system.axes[1];
  if (
    b.metresPerUnit !== 1 ||
    (place !== null && distanceToAreaKm(area, place.latitudeDeg, place.longitudeDeg) <= CONSTANT_BEYOND_KM)
  )
    return null;
  // Zones that end at the equator are used across it, with northings that are negative or above the false northing.
  if (place !== null && (area.southDeg === 0 || area.northDeg === 0)) return null;
  const out: GeographicPair = { latitudeDeg: 0, longitudeDeg: 0 };
  for (const constant of CONSTANTS_M) {
    for (const [signed, what] of [
      [constant, 'left off'],
      [-constant, 'added'],
    ] as const) {
      if (
        system.inverse(first, second + signed, out) !== 'ok' ||
        !isInsideArea(area, out.latitudeDeg, out.longitudeDeg)
      )
        continue;
      return {
        what: `lies inside if a constant such as ${String(constant)} was ${what} in the ${b.name}`,
        mend: `put the whole coordinate into the file, or name the zone of the other hemisphere or the grid it is in with ${option}`,
      };
    }
  }
  return null;
}

/**
 * Whether latitude and longitude look exchanged.
 *
 * Given: area of use; degrees. Returned: coordinates-swapped where the place is more than 100 km
 * outside the area (an error beyond 1000 km, else a warning) and the exchanged place is inside; else null.
 */
export function exchangedPlace(area: AreaOfUse, latitudeDeg: number, longitudeDeg: number): Problem | null {
  if (distanceToAreaKm(area, latitudeDeg, longitudeDeg) <= DOUBT_BEYOND_KM) return null;
  if (Math.abs(longitudeDeg) > 90 || !isInsideArea(area, longitudeDeg, latitudeDeg)) return null;
  return doubt('coordinates-swapped', distanceToAreaKm(area, latitudeDeg, longitudeDeg), {
    message: `${farOutside(area, latitudeDeg, longitudeDeg)}, and as a guess inside with the two exchanged`,
    hint: 'exchange the columns with --columns latitude_deg=HEADER,longitude_deg=HEADER; in GeoJSON the longitude comes first: mend the file',
  });
}

/**
 * Whether latitude and longitude look as if a sign had been lost. Only for the area of the system they are in: a zone is
 * used across the equator too.
 *
 * Given: area of use of the geographic system; degrees. Returned: coordinate-implausible where the place is more than
 * 100 km outside the area (an error beyond 1000 km, else a warning) and that of the other sign is inside; else null.
 */
export function lostSign(area: AreaOfUse, latitudeDeg: number, longitudeDeg: number): Problem | null {
  if (distanceToAreaKm(area, latitudeDeg, longitudeDeg) <= DOUBT_BEYOND_KM) return null;
  const signs = [
    ['the latitude', -latitudeDeg, longitudeDeg],
    ['the longitude', latitudeDeg, -longitudeDeg],
    ['both', -latitudeDeg, -longitudeDeg],
  ] as const;
  const found = signs.find(([, latitude, longitude]) => isInsideArea(area, latitude, longitude));
  if (found === undefined) return null;
  return doubt('coordinate-implausible', distanceToAreaKm(area, latitudeDeg, longitudeDeg), {
    message: `${farOutside(area, latitudeDeg, longitudeDeg)}, and as a guess inside with the sign of ${found[0]} the other way`,
    hint: 'north and east are positive: has a minus or a hemisphere been lost?',
  });
}

function farOutside(area: AreaOfUse, latitudeDeg: number, longitudeDeg: number): string {
  return `latitude ${String(latitudeDeg)}, longitude ${String(longitudeDeg)} lies far outside ${area.description.replace(/\.$/u, '')}`;
}
