import { normaliseLongitudeDeg } from '../../numeric/angle-units.js';
import type { Caution } from '../caution.js';

/** A part of the day, by the sun, in which the ionosphere is often rough. */
export interface IonosphereWindow {
  readonly id: string;
  /** Hours of local mean solar time, 0…24; `fromH` > `toH` runs over midnight. */
  readonly fromH: number;
  readonly toH: number;
  readonly text: string;
  /** Every row is from memory of the trade: a hint where to look, not a forecast. */
  readonly source: 'from memory';
}

interface WindowRow extends IonosphereWindow {
  readonly leastLatitudeDeg: number;
  readonly greatestLatitudeDeg: number;
  /** Only in the winter half of the year of the hemisphere. */
  readonly winterOnly: boolean;
}

const ROWS: readonly WindowRow[] = [
  {
    id: 'ionosphere-low-latitude-evening',
    leastLatitudeDeg: 0,
    greatestLatitudeDeg: 30,
    winterOnly: false,
    fromH: 18,
    toH: 2,
    text: 'After sunset near the equator the ionosphere can change by many times its usual gradient and signals can flicker.',
    source: 'from memory',
  },
  {
    id: 'ionosphere-mid-latitude-winter-day',
    leastLatitudeDeg: 30,
    greatestLatitudeDeg: 60,
    winterOnly: true,
    fromH: 9,
    toH: 15,
    text: 'On winter days of years with many sunspots, travelling waves disturb long baselines at middle latitudes.',
    source: 'from memory',
  },
  {
    id: 'ionosphere-high-latitude-night',
    leastLatitudeDeg: 55,
    greatestLatitudeDeg: 90,
    winterOnly: false,
    fromH: 20,
    toH: 4,
    text: 'At night under the auroral zone disturbances come suddenly, most of all when the planetary K index is 5 or more.',
    source: 'from memory',
  },
];

/** Work hours that meet such a window. */
export interface IonosphereCaution extends Caution {
  /** Overlap with the work, hours. */
  readonly overlapH: number;
}

/** Local mean solar time, hours 0…24 (24 excluded). Given: hour of the day, UTC; longitude, degrees, east positive. */
export function localSolarHour(utcHour: number, longitudeDeg: number): number {
  return (((utcHour + normaliseLongitudeDeg(longitudeDeg) / 15) % 24) + 24) % 24;
}

/**
 * Windows in which the ionosphere is often rough at a place.
 *
 * Given: latitude, degrees; month 1…12, null: unknown (winter windows are then listed too).
 * Returned: the windows, in local mean solar time. Bands are of geographic latitude; what matters is
 * the magnetic one, which differs by up to some 11 degrees, so the bands are wide and overlap.
 */
export function ionosphereWindow(latitudeDeg: number, month: number | null): readonly IonosphereWindow[] {
  const absolute = Math.abs(latitudeDeg);
  return ROWS.filter(
    (row) =>
      absolute >= row.leastLatitudeDeg &&
      absolute <= row.greatestLatitudeDeg &&
      (!row.winterOnly || month === null || isWinterHalf(latitudeDeg, month)),
  ).map(({ id, fromH, toH, text, source }) => ({ id, fromH, toH, text, source }));
}

/**
 * Cautions for planned hours.
 *
 * Given: place, degrees; month or null; start of the work, hour of the day UTC; its length, hours.
 * Returned: one caution for each window that the work meets. Nothing is forecast.
 */
export function ionosphereCautions(
  latitudeDeg: number,
  longitudeDeg: number,
  month: number | null,
  startUtcHour: number,
  hours: number,
): readonly IonosphereCaution[] {
  const start = localSolarHour(startUtcHour, longitudeDeg);
  const cautions: IonosphereCaution[] = [];
  for (const { id, fromH, toH, text, source } of ionosphereWindow(latitudeDeg, month)) {
    const length = (toH - fromH + 24) % 24;
    const overlapH = cyclicOverlap(start, Math.max(0, hours), fromH, length);
    if (overlapH > 0) cautions.push({ id, text, source, overlapH });
  }
  return cautions;
}

/** Hours common to work from `start` for `length` hours and a daily window. */
function cyclicOverlap(start: number, length: number, windowStart: number, windowLength: number): number {
  let overlap = 0;
  for (let at = windowStart - 24; at < start + length; at += 24) {
    overlap += Math.max(0, Math.min(start + length, at + windowLength) - Math.max(start, at));
  }
  return overlap;
}

/** October to March in the north, April to September in the south. */
function isWinterHalf(latitudeDeg: number, month: number): boolean {
  const northWinter = month >= 10 || month <= 3;
  return latitudeDeg >= 0 ? northWinter : !northWinter;
}
