import { exampleOf, isAllZero } from './column-profile.js';
import type { ColumnProfile } from './column-profile.js';
import { isClock, isDate } from '../guesses/guess-time.js';
import { HEADER_PHRASES, matchScore } from './header-words.js';
import type { Quantity } from './header-words.js';

/** What each column is guessed to hold. */
export interface Assignment {
  /** The column of a quantity. */
  readonly of: ReadonlyMap<Quantity, ColumnProfile>;
  /** Quantities that more than one header names as well: all of them. */
  readonly contested: ReadonlyMap<Quantity, readonly ColumnProfile[]>;
  /** Columns that nothing was guessed of. */
  readonly free: readonly ColumnProfile[];
  /** Columns that were guessed and left out because every number in them is zero. */
  readonly zero: readonly (readonly [Quantity, ColumnProfile])[];
}

const QUANTITIES: readonly Quantity[] = Object.keys(HEADER_PHRASES) as Quantity[];
const NUMERIC: ReadonlySet<Quantity> = new Set<Quantity>([
  ...([
    'ellipsoidal_height_m',
    'orthometric_height_m',
    'height',
    'easting',
    'northing',
    'westing',
    'southing',
    'x',
    'y',
    'z',
  ] as const),
  ...([
    'correction_age_s',
    'satellites_used',
    'pdop',
    'hdop',
    'vdop',
    'sigma_east_m',
    'sigma_north_m',
    'sigma_up_m',
  ] as const),
  ...([
    'sigma_horizontal_m',
    'correlation_en',
    'pole_length_m',
    'tilt_deg',
    'tilt_azimuth_deg',
    'epoch_count',
  ] as const),
  ...(['gps_week', 'gps_seconds'] as const),
]);
/** Quantities of which zeros throughout mean that nothing was measured; a zero sigma would be believed. */
const ZERO_IS_NOTHING: ReadonlySet<Quantity> = new Set<Quantity>([
  ...([
    'correction_age_s',
    'satellites_used',
    'pdop',
    'hdop',
    'vdop',
    'sigma_east_m',
    'sigma_north_m',
    'sigma_up_m',
  ] as const),
  ...([
    'sigma_horizontal_m',
    'correlation_en',
    'tilt_deg',
    'tilt_azimuth_deg',
    'epoch_count',
    'pole_length_m',
  ] as const),
]);

/** Guesses which column holds what: by the words of headers, as far as the cells do not speak against it. */
export function assignColumns(profiles: readonly ColumnProfile[]): Assignment {
  const ranked = profiles.flatMap((column) =>
    QUANTITIES.map((quantity) => ({ column, quantity, score: scoreOf(column, quantity) })).filter(
      ({ score }) => score > 0,
    ),
  );
  // Of one score in the order of the file.
  ranked.sort((a, b) => b.score - a.score);
  const of = new Map<Quantity, ColumnProfile>();
  const contested = new Map<Quantity, readonly ColumnProfile[]>();
  const taken = new Set<ColumnProfile>();
  const zero: (readonly [Quantity, ColumnProfile])[] = [];
  for (const { column, quantity, score } of ranked) {
    if (taken.has(column) || of.has(quantity)) continue;
    if (ZERO_IS_NOTHING.has(quantity) && isAllZero(column)) {
      zero.push([quantity, column]);
      taken.add(column);
      continue;
    }
    const rivals = ranked.filter(
      (other) =>
        other.quantity === quantity &&
        other.score === score &&
        !taken.has(other.column) &&
        bestOf(other.column, ranked) === score,
    );
    if (rivals.length > 1)
      contested.set(
        quantity,
        rivals.map((rival) => rival.column),
      );
    of.set(quantity, column);
    taken.add(column);
    for (const rival of rivals) taken.add(rival.column);
  }
  return { of, contested, free: profiles.filter((column) => !taken.has(column)), zero };
}

function bestOf(
  column: ColumnProfile,
  ranked: readonly { readonly column: ColumnProfile; readonly score: number }[],
): number {
  // What no meaning fits has no score.
  return ranked.find((entry) => entry.column === column)?.score ?? 0;
}

/** Our own name counts most, then a whole phrase, then a phrase within a longer header; 0 where the cells cannot be it. */
function scoreOf(column: ColumnProfile, quantity: Quantity): number {
  const name = column.header.trim().toLowerCase();
  const own = name === quantity || (quantity === 'moment' && name === 'epoch_utc');
  const axis = ['easting', 'northing', 'westing', 'southing'].includes(quantity) && name.startsWith(`${quantity}_`);
  const score = own || axis ? 4 : matchScore(column.form.phrase, quantity);
  return score > 0 && canHold(column, quantity) ? score : 0;
}

function canHold(column: ColumnProfile, quantity: Quantity): boolean {
  if (column.cells.length === 0) return false;
  if (NUMERIC.has(quantity)) return column.numbers !== null;
  switch (quantity) {
    case 'date':
      return isDate(column);
    case 'clock':
      return isClock(column);
    case 'moment':
      return !isClock(column) && !isDate(column) && /\d/u.test(exampleOf(column.cells));
    case 'latitude_letter':
      return column.distinct.every(([cell]) => /^[NS]$/iu.test(cell));
    case 'longitude_letter':
      return column.distinct.every(([cell]) => /^[EW]$/iu.test(cell));
    case 'latitude_deg':
    case 'longitude_deg':
      return column.cells.every((cell) => /\d/u.test(cell));
    case 'solution':
      return column.distinct.length <= MOST_SOLUTIONS;
    default:
      return true;
  }
}

/** A receiver has fewer words for its solutions. */
const MOST_SOLUTIONS = 12;
