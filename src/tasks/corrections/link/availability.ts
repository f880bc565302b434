import { wilsonInterval } from '../../../core/corrections/wilson-interval.js';
import { GRS80 } from '../../../core/ellipsoid/ellipsoid.js';
import { meridianRadiusM, primeVerticalRadiusM } from '../../../core/ellipsoid/radii.js';
import { RADIANS_PER_DEGREE } from '../../../core/numeric/angle-units.js';
import { AVAILABILITY_AGES_S } from '../../../records/corrections/link-report.js';
import type { Availability, AvailabilityCell, AvailabilityHour } from '../../../records/corrections/link-report.js';
import type { Listed } from '../../../records/corrections/correction-audit.js';

const HOUR_MS = 3_600_000;
/** Side of a cell, metres. */
export const CELL_M = 100;
/** Cells that are kept: a day's work has some hundreds. */
const MOST_CELLS = 20_000;

/** Counts epochs by the age of their corrections. */
interface Counter {
  epochs: number;
  /** One for each of `AVAILABILITY_AGES_S`. */
  readonly within: number[];
}

function newCounter(): Counter {
  return { epochs: 0, within: AVAILABILITY_AGES_S.map(() => 0) };
}

/** `ageS` null: there were no corrections. */
function count(counter: Counter, ageS: number | null): void {
  counter.epochs += 1;
  if (ageS === null) return;
  for (const [index, limitS] of AVAILABILITY_AGES_S.entries())
    if (ageS <= limitS) counter.within[index] = (counter.within[index] as number) + 1;
}

function availabilityOf({ epochs, within }: Counter): Availability {
  return {
    epochs,
    shares: AVAILABILITY_AGES_S.map((ageS, index) => {
      const own = within[index] as number;
      return { ageS, count: own, share: own / epochs, ...wilsonInterval(own, epochs) };
    }),
  };
}

/** Availability by hour and by cell of the ground. */
export interface AvailabilityCount {
  /** Given the age, seconds, null for an epoch that had no corrections; when, UTC, null: not known; where, degrees. */
  readonly add: (ageS: number | null, epochMs: number | null, latitudeDeg: number, longitudeDeg: number) => void;
  readonly hours: () => readonly AvailabilityHour[];
  readonly cells: () => Listed<AvailabilityCell>;
}

/** The first place lies in the middle of its cell, so that a stand does not fall apart. Cells are squares by the curvature at the first place; over a day's work they stay so to a thousandth. */
export function createAvailability(): AvailabilityCount {
  const hours = new Map<number, Counter>();
  const cells = new Map<string, Counter & { readonly row: number; readonly column: number }>();
  const leftOut = new Set<string>();
  let origin: Origin | null = null;
  return {
    add(ageS, epochMs, latitudeDeg, longitudeDeg) {
      if (epochMs !== null) {
        const hour = Math.floor(epochMs / HOUR_MS);
        const own = hours.get(hour) ?? newCounter();
        hours.set(hour, own);
        count(own, ageS);
      }
      origin ??= originAt(latitudeDeg, longitudeDeg);
      const row = Math.floor((latitudeDeg - origin.latitudeDeg) / origin.stepLatitudeDeg);
      const column = Math.floor((longitudeDeg - origin.longitudeDeg) / origin.stepLongitudeDeg);
      const key = `${String(row)} ${String(column)}`;
      const known = cells.get(key);
      if (known === undefined && cells.size >= MOST_CELLS) {
        if (leftOut.size < MOST_CELLS) leftOut.add(key);
        return;
      }
      const own = known ?? { ...newCounter(), row, column };
      cells.set(key, own);
      count(own, ageS);
    },
    hours: () =>
      [...hours]
        .sort(([a], [b]) => a - b)
        .map(([hour, counter]) => ({ fromMs: hour * HOUR_MS, ...availabilityOf(counter) })),
    cells: () => ({
      listed: [...cells.values()]
        .sort((a, b) => a.row - b.row || a.column - b.column)
        .map((cell) => ({ ...boxOf(cell.row, cell.column, origin as Origin), ...availabilityOf(cell) })),
      leftOut: leftOut.size,
    }),
  };
}

/** South-west corner of the first cell, and the sides of all. */
interface Origin {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly stepLatitudeDeg: number;
  readonly stepLongitudeDeg: number;
}

function originAt(latitudeDeg: number, longitudeDeg: number): Origin {
  const parallelM = primeVerticalRadiusM(GRS80, latitudeDeg) * Math.cos(latitudeDeg * RADIANS_PER_DEGREE);
  const stepLatitudeDeg = CELL_M / meridianRadiusM(GRS80, latitudeDeg) / RADIANS_PER_DEGREE;
  // At a pole one cell goes all around.
  const stepLongitudeDeg = Math.min(360, CELL_M / Math.max(parallelM, 1) / RADIANS_PER_DEGREE);
  return {
    latitudeDeg: latitudeDeg - stepLatitudeDeg / 2,
    longitudeDeg: longitudeDeg - stepLongitudeDeg / 2,
    stepLatitudeDeg,
    stepLongitudeDeg,
  };
}

function boxOf(
  row: number,
  column: number,
  origin: Origin,
): Pick<AvailabilityCell, 'southDeg' | 'westDeg' | 'northDeg' | 'eastDeg'> {
  const southDeg = origin.latitudeDeg + row * origin.stepLatitudeDeg;
  const westDeg = origin.longitudeDeg + column * origin.stepLongitudeDeg;
  return {
    southDeg,
    westDeg,
    northDeg: southDeg + origin.stepLatitudeDeg,
    eastDeg: westDeg + origin.stepLongitudeDeg,
  };
}
