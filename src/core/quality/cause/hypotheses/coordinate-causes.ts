import { INTERNATIONAL_FOOT_M, US_SURVEY_FOOT_M } from '../../../numeric/length-units.js';
import type { LocalVector } from '../../../../records/points/point.js';
import type { CauseContext } from '../cause-context.js';
import type { CauseDay, CausePoint, OtherZone } from '../cause-day.js';
import type { CauseId } from '../cause-ids.js';
import type { CauseModel } from '../cause-model.js';
import { gridPattern } from '../observation-list.js';

/** What a slip makes of a known point: a grid pair in the system's own axes and unit, and a height; null: not possible. */
interface Slip {
  readonly first: number;
  readonly second: number;
  readonly heightM: number;
}

const FEET: readonly (readonly [string, number])[] = [
  ['international feet read as metres', 1 / INTERNATIONAL_FOOT_M],
  ['US survey feet read as metres', 1 / US_SURVEY_FOOT_M],
  ['metres read as international feet', INTERNATIONAL_FOOT_M],
  ['metres read as US survey feet', US_SURVEY_FOOT_M],
];
const TWO_FEET: readonly (readonly [string, number])[] = [
  ['US survey feet read as international feet', INTERNATIONAL_FOOT_M / US_SURVEY_FOOT_M],
  ['international feet read as US survey feet', US_SURVEY_FOOT_M / INTERNATIONAL_FOOT_M],
];

/** What a cause would have made of each point; null: nothing that is known. */
type SlipOf = (point: CausePoint) => Slip | null;

/** Adds a cause: its id, among how many of its kind it is chosen, what of, its slip, and the factor that it says. */
type AddCause = (cause: CauseId, choices: number, subject: string, slip: SlipOf, value?: number | null) => void;

/** Causes in the coordinates as numbers: zone, order and sign, feet, sexagesimal angles. Nothing is estimated. */
export function coordinateCauses(context: CauseContext): readonly CauseModel[] {
  const { day } = context;
  const models: CauseModel[] = [];
  const add: AddCause = (cause, choices, subject, slip, value = null) => {
    const fixed = gridPattern(day, context.list, (point) => differenceOf(day, point, slip(point)));
    if (fixed === null) return;
    models.push({
      cause,
      subject,
      fixed,
      columns: [],
      isWhitened: false,
      choices,
      read: () => (value === null ? [] : [{ name: 'factor', value, sigma: null, unit: '' }]),
    });
  };
  if (context.hasHorizontal) {
    addAxes(add);
    addZones(add, day);
    addMinutes(add, day);
  }
  addFeet(add, context);
  return models;
}

const EXCHANGES: readonly (readonly [string, (first: number, second: number) => readonly [number, number]])[] = [
  ['the two values are exchanged', (first, second) => [second, first]],
  ['the first value has lost its sign', (first, second) => [-first, second]],
  ['the second value has lost its sign', (first, second) => [first, -second]],
  ['both values have the opposite sign', (first, second) => [-first, -second]],
  ['the values are exchanged and have the opposite sign', (first, second) => [-second, -first]],
];

function addAxes(add: AddCause): void {
  for (const [subject, of] of EXCHANGES) {
    add('axes', EXCHANGES.length, subject, (point) => {
      if (point.knownFirstM === null || point.knownSecondM === null) return null;
      const [first, second] = of(point.knownFirstM, point.knownSecondM);
      // A height that is not known takes no part: without a residual its term is left out.
      return { first, second, heightM: point.knownHeightM ?? 0 };
    });
  }
}

function addZones(add: AddCause, day: CauseDay): void {
  for (const zone of day.otherZones) {
    const measured: readonly [string, SlipOf] = [
      `measured in ${zone.name}, known in the system's own`,
      (point) => measuredElsewhere(point, zone, day),
    ];
    const readings: readonly (readonly [string, SlipOf])[] = [
      ...(day.isMeasuredSound === true ? [] : [measured]),
      [`known in ${zone.name}, measured in the system's own`, (point) => knownElsewhere(point, zone, day)],
    ];
    for (const [subject, slip] of readings) add('zone', readings.length * day.otherZones.length, subject, slip);
  }
}

const MISREADINGS = [
  ['minutes and decimals of a minute after the point', misreadMinutes],
  ['minutes and seconds after the point', misreadSeconds],
] as const;

function addMinutes(add: AddCause, day: CauseDay): void {
  const out = { first: NaN, second: NaN };
  for (const [subject, misread] of MISREADINGS) {
    add('degrees-minutes', MISREADINGS.length, subject, (point) => {
      if (point.latitudeDeg === null || point.longitudeDeg === null || day.forward === null) return null;
      if (day.forward(misread(point.latitudeDeg), misread(point.longitudeDeg), out) !== 'ok') return null;
      return {
        first: out.first * day.metresPerUnit,
        second: out.second * day.metresPerUnit,
        // A height that is not known takes no part: without a residual its term is left out.
        heightM: point.knownHeightM ?? 0,
      };
    });
  }
}

/** Four misread units of coordinates, of heights and of both, and two of coordinates between the feet. */
const FEET_CHOICES = 14;

function addFeet(add: AddCause, { hasHorizontal, hasVertical }: CauseContext): void {
  const feet = (words: string, factor: number, horizontal: boolean, vertical: boolean): void => {
    const where = horizontal && vertical ? 'coordinates and heights' : horizontal ? 'coordinates' : 'heights';
    const slip: SlipOf = (point) => scaled(point, horizontal ? factor : 1, vertical ? factor : 1);
    add('feet', FEET_CHOICES, `${where}: ${words}`, slip, factor);
  };
  for (const [words, factor] of FEET) {
    if (hasHorizontal) feet(words, factor, true, false);
    if (hasVertical) feet(words, factor, false, true);
    if (hasHorizontal && hasVertical) feet(words, factor, true, true);
  }
  if (hasHorizontal) for (const [words, factor] of TWO_FEET) feet(words, factor, true, false);
}

/** The measured pair is the true place's in another zone. */
function measuredElsewhere(point: CausePoint, zone: OtherZone, { metresPerUnit }: CauseDay): Slip | null {
  const out = { first: NaN, second: NaN };
  if (
    point.latitudeDeg === null ||
    point.longitudeDeg === null ||
    zone.forward(point.latitudeDeg, point.longitudeDeg, out) !== 'ok'
  )
    return null;
  // A height that is not known takes no part: without a residual its term is left out.
  return { first: out.first * metresPerUnit, second: out.second * metresPerUnit, heightM: point.knownHeightM ?? 0 };
}

/** The known pair is the true place's in another zone, and the measured pair is the system's own. */
function knownElsewhere(point: CausePoint, zone: OtherZone, { metresPerUnit, forward }: CauseDay): Slip | null {
  const out = { first: NaN, second: NaN };
  const place = { latitudeDeg: NaN, longitudeDeg: NaN };
  if (forward === null || point.knownFirstM === null || point.knownSecondM === null) return null;
  if (
    zone.inverse(point.knownFirstM / metresPerUnit, point.knownSecondM / metresPerUnit, place) !== 'ok' ||
    forward(place.latitudeDeg, place.longitudeDeg, out) !== 'ok'
  )
    return null;
  // A height that is not known takes no part: without a residual its term is left out.
  return { first: out.first * metresPerUnit, second: out.second * metresPerUnit, heightM: point.knownHeightM ?? 0 };
}

function scaled(point: CausePoint, horizontal: number, vertical: number): Slip | null {
  if (horizontal !== 1 && (point.knownFirstM === null || point.knownSecondM === null)) return null;
  if (vertical !== 1 && point.upM !== null && point.knownHeightM === null) return null;
  return {
    // A height that is not known takes no part: without a residual its term is left out.
    first: (point.knownFirstM ?? 0) * horizontal,
    // A height that is not known takes no part: without a residual its term is left out.
    second: (point.knownSecondM ?? 0) * horizontal,
    // A height that is not known takes no part: without a residual its term is left out.
    heightM: (point.knownHeightM ?? 0) * vertical,
  };
}

function differenceOf(day: CauseDay, point: CausePoint, slip: Slip | null): LocalVector | null {
  if (slip === null) return null;
  return {
    // A height that is not known takes no part: without a residual its term is left out.
    eastM: day.axisSigns[0] * (slip.first - (point.knownFirstM ?? 0)),
    // A height that is not known takes no part: without a residual its term is left out.
    northM: day.axisSigns[1] * (slip.second - (point.knownSecondM ?? 0)),
    // A height that is not known takes no part: without a residual its term is left out.
    upM: slip.heightM - (point.knownHeightM ?? 0),
  };
}

/** 31°30.5′ written 31.305 and read as degrees. */
function misreadMinutes(angleDeg: number): number {
  const size = Math.abs(angleDeg);
  const whole = Math.trunc(size);
  return Math.sign(angleDeg) * (whole + ((size - whole) * 60) / 100);
}

/** 31°30′36″ written 31.3036 and read as degrees. */
function misreadSeconds(angleDeg: number): number {
  const size = Math.abs(angleDeg);
  const whole = Math.trunc(size);
  const minutes = (size - whole) * 60;
  const wholeMinutes = Math.trunc(minutes + 1e-12);
  return Math.sign(angleDeg) * (whole + wholeMinutes / 100 + ((minutes - wholeMinutes) * 60) / 10_000);
}
