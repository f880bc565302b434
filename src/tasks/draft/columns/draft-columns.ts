import { pushAll } from '../../../core/numeric/push-all.js';
import { present } from '../../../records/present.js';
import type { Assignment } from './assign-columns.js';
import { exampleOf } from './column-profile.js';
import type { ColumnProfile } from './column-profile.js';
import { ASKED, question } from '../draft-line.js';
import type { Answers, DraftLine, DraftValue } from '../draft-line.js';
import { guessLength, saidLength } from '../guesses/guess-length.js';
import { guessTime } from '../guesses/guess-time.js';
import type { TimeGuess } from '../guesses/guess-time.js';
import type { Quantity } from './header-words.js';

/** Lines of `[columns]` with what else is guessed from them. */
export interface ColumnLines {
  readonly lines: readonly DraftLine[];
  readonly time: TimeGuess | null;
}

/** Quantities that are taken as they stand, and lengths. */
const PLAIN: readonly Quantity[] = [
  'code',
  'correction_age_s',
  'satellites_used',
  'pdop',
  'hdop',
  'vdop',
  'correlation_en',
  'base_id',
];
const LENGTHS: readonly Quantity[] = ['pole_length_m', 'sigma_east_m', 'sigma_north_m', 'sigma_up_m'];
const ANGLES: readonly Quantity[] = ['tilt_deg', 'tilt_azimuth_deg'];
const COUNTS: readonly Quantity[] = ['epoch_count', 'note'];

/** A line of `[columns]`. */
export function columnLine(name: string, value: DraftValue, why: readonly string[]): DraftLine {
  return { path: ['columns', name], value, why };
}

/** Whether any header of the file says feet. */
export function saysFeet(assigned: Assignment): boolean {
  return [...assigned.of.values(), ...assigned.free].some((column) =>
    // A header that says no length says no feet.
    ['feet', 'ft', 'usft'].includes(saidLength(column) ?? ''),
  );
}

/** The columns that are not the position. */
export function otherColumns(
  assigned: Assignment,
  solutionWords: ReadonlyMap<string, unknown>,
  answers: Answers,
): ColumnLines {
  const { of, contested } = assigned;
  const isFeetFile = saysFeet(assigned);
  const lines: DraftLine[] = [pointIdLine(assigned)];
  const time = timeOf(assigned);
  if (time !== null) lines.push(columnLine('epoch_utc', time.value, time.why));
  else if (of.has('clock'))
    lines.push({
      ...columnLine('epoch_utc', present(of.get('clock'), 'the column of times').header, [
        'times of day without a date: left out. Add a column of dates to the file to use them',
      ]),
      isOffered: true,
    });
  for (const quantity of [...PLAIN, ...COUNTS]) {
    const column = of.get(quantity);
    if (column !== undefined) lines.push(contestedLine(quantity, contested) ?? plainLine(quantity, column));
  }
  const solution = of.get('solution');
  if (solution !== undefined) lines.push(contestedLine('solution', contested) ?? solutionLine(solution, solutionWords));
  for (const name of LENGTHS) {
    const column = of.get(name);
    if (column === undefined) continue;
    const { value, why } = guessLength(column, name, isFeetFile);
    lines.push(contestedLine(name, contested) ?? columnLine(name, value, why));
  }
  for (const name of ANGLES) {
    const column = of.get(name);
    if (column !== undefined)
      lines.push(columnLine(name, tiltValue(column), [`header "${column.header}", values ${range(column)}`]));
  }
  pushAll(lines, horizontalLines(assigned, isFeetFile, answers));
  for (const [quantity, column] of assigned.zero)
    lines.push({
      ...columnLine(quantity, column.header, ['every value is 0: nothing was written there, so it is left out']),
      isOffered: true,
    });
  return { lines, time };
}

function pointIdLine({ of, contested, free }: Assignment): DraftLine {
  const column = of.get('point_id');
  if (column !== undefined) return contestedLine('point_id', contested) ?? plainLine('point_id', column);
  const names = free.map(({ header }) => header);
  return question(
    ['columns', 'point_id'],
    [`which column names the point? Not guessed are: ${names.length === 0 ? 'none' : names.join(', ')}`],
  );
}

function plainLine(quantity: Quantity, column: ColumnProfile): DraftLine {
  const shown = column.numbers === null ? `such as ${exampleOf(column.cells)}` : `values ${range(column)}`;
  const own = column.header.toLowerCase() === quantity;
  return columnLine(quantity, column.header, [`${own ? 'our own name' : `header "${column.header}"`}, ${shown}`]);
}

/** A question where two headers fit alike. */
function contestedLine(quantity: Quantity, contested: Assignment['contested']): DraftLine | null {
  const rivals = contested.get(quantity);
  return rivals === undefined
    ? null
    : question(
        ['columns', quantity],
        [
          `${rivals.map(({ header }) => `"${header}"`).join(' and ')} could each be it: write one of them, or take the line out`,
        ],
      );
}

/** Values of a column, shortest to longest. */
export function range({ least, most }: ColumnProfile): string {
  return least === most ? String(least) : `${String(least)} to ${String(most)}`;
}

function tiltValue({ header, form }: ColumnProfile): DraftValue {
  if (/^(?:gon|grad)$/u.test(form.unit)) return { header, unit: 'gon' };
  return form.unit === 'rad' ? { header, unit: 'rad' } : header;
}

function solutionLine(column: ColumnProfile, known: ReadonlyMap<string, unknown>): DraftLine {
  const small = (cell: string): string => cell.toLowerCase().replace(/[\s_-]+/gu, ' ');
  const strange = column.distinct.filter(([cell]) => !known.has(cell.toLowerCase()) && !known.has(small(cell)));
  const seen = column.distinct.map(([cell, count]) => `${cell} ${String(count)}`).join(', ');
  const why = `header "${column.header}", words and how often: ${seen}`;
  if (strange.length === 0) return columnLine('solution', column.header, [why]);
  return columnLine(
    'solution',
    { header: column.header, words: Object.fromEntries(strange.map(([cell]) => [cell, ASKED])) },
    [why, 'write for each "fixed", "float", "differential" or "autonomous"'],
  );
}

/** One figure for both axes: what it means is never guessed. */
function horizontalLines({ of }: Assignment, isFeetFile: boolean, answers: Answers): readonly DraftLine[] {
  const column = of.get('sigma_horizontal_m');
  if (column === undefined || of.has('sigma_east_m') || of.has('sigma_north_m')) return [];
  const { value, why } = guessLength(column, 'sigma_horizontal_m', isFeetFile);
  const means = answers.get('columns.sigma_horizontal_m.means') ?? ASKED;
  const parts = typeof value === 'object' && !Array.isArray(value) ? value : { header: value };
  return [
    columnLine('sigma_horizontal_m', { ...(parts as Readonly<Record<string, DraftValue>>), means }, [
      ...why,
      'one figure for both axes: write "per-axis" for one sigma of each, "drms" for the root of the sum of squares, "95" for the 95 % radius',
    ]),
  ];
}

function timeOf({ of }: Assignment): TimeGuess | null {
  const [week, seconds] = [of.get('gps_week'), of.get('gps_seconds')];
  if (week !== undefined && seconds !== undefined) return guessTime([week, seconds]);
  const moment = of.get('moment');
  if (moment !== undefined) return guessTime([moment]);
  const [date, clock] = [of.get('date'), of.get('clock')];
  return date !== undefined && clock !== undefined ? guessTime([date, clock]) : null;
}
