import { zoneMinutesOf } from '../../core/numeric/text/time-form.js';
import { assignColumns } from './columns/assign-columns.js';
import type { Assignment } from './columns/assign-columns.js';
import { columnProfiles } from './columns/column-profile.js';
import { acceptanceLines } from './draft-acceptance.js';
import { baseLines } from './draft-bases.js';
import type { BaseEpoch } from './draft-bases.js';
import { otherColumns } from './columns/draft-columns.js';
import { question } from './draft-line.js';
import type { Answers, Draft, DraftLine, DraftValue, WorkBox } from './draft-line.js';
import { positionColumns } from './draft-position.js';
import type { AxisPair } from './draft-position.js';
import { roverLines } from './draft-rover.js';
import { systemLines } from './draft-system.js';
import type { SystemCandidates } from './draft-system.js';
import { tableLines } from './draft-table.js';
import type { DialectGuess } from './guesses/guess-dialect.js';
import type { EncodingGuess } from './guesses/guess-encoding.js';
import type { TimeGuess } from './guesses/guess-time.js';

/** A table of fixes, as far as it was read. */
export interface DraftTable {
  /** Null: a GeoJSON document. */
  readonly dialect: DialectGuess | null;
  readonly encoding: EncodingGuess | null;
  readonly header: readonly string[];
  readonly unitsRow: readonly string[] | null;
  readonly rows: readonly (readonly string[])[];
}

/** What a draft is made with from outside: registries, words that are known, answers given with the command. */
export interface DraftSurroundings {
  readonly candidates: (box: WorkBox) => SystemCandidates;
  readonly solutionWords: ReadonlyMap<string, unknown>;
  /** Axes of the projected system that an answer names for the fixes; null: none. */
  readonly axes: AxisPair | null;
  readonly answers: Answers;
}

/** Drafts a session from a table of fixes. Every line says what it was guessed from; what cannot be guessed is asked. */
export function draftOfTable(table: DraftTable, surroundings: DraftSurroundings): Draft {
  const { dialect, encoding, header, unitsRow, rows } = table;
  const { answers, axes, candidates, solutionWords } = surroundings;
  const mark = answers.get('table.decimal_mark') ?? dialect?.decimalMark ?? '.';
  const decimalComma = mark === ',';
  const profiles = columnProfiles(header, unitsRow, rows, decimalComma);
  const assigned = assignColumns(profiles);
  const position = positionColumns(assigned, decimalComma, axes, answers);
  const others = otherColumns(assigned, solutionWords, answers);
  const found = position.box === null ? null : candidates(position.box);
  return {
    box: position.box,
    lines: [
      ...(dialect === null ? [] : tableLines(dialect, encoding)),
      ...(assigned.of.has('solution') ? [] : [solutionQuestion()]),
      ...systemLines(position, found),
      ...roverLines(
        {
          hasPole: assigned.of.has('pole_length_m'),
          hasReferencePoint: header.some((name) => name.toLowerCase() === 'reference_point'),
          tilt: assigned.of.get('tilt_deg') ?? null,
          isLog: false,
        },
        answers,
      ),
      ...baseLines(epochsOf(table, assigned, others.time, answers), assigned.of.get('base_id')?.header ?? null),
      ...acceptanceLines(assigned, others.time !== null),
      ...[...others.lines, ...position.lines].filter((line) => !isOwnName(line, header)),
      ...freeLines(assigned),
    ],
  };
}

/** Rows that state no solution are refused: whether they are fixed, only the logger knows. */
function solutionQuestion(): DraftLine {
  return question(
    ['table', 'solution'],
    ['no column says the solution of a row: write "fixed" if the logger keeps fixed ones only, else what they are'],
  );
}

/** A column that bears our own name and nothing else is found without being told. */
function isOwnName({ path, value, isOffered }: DraftLine, header: readonly string[]): boolean {
  return isOffered !== true && value === path[1] && header.includes(value);
}

/** What is said of columns that nothing was guessed of. */
function freeLines({ free }: Assignment): readonly DraftLine[] {
  if (free.length === 0) return [];
  return [
    {
      path: ['columns', ''],
      value: '',
      why: [`columns that nothing was guessed of pass through: ${free.map(({ header }) => header).join(', ')}`],
      isOffered: true,
    },
  ];
}

/** Base and time of each row, as far as the zone is known. */
function epochsOf(
  { header, rows }: DraftTable,
  assigned: Assignment,
  time: TimeGuess | null,
  answers: Answers,
): readonly BaseEpoch[] {
  const base = assigned.of.get('base_id');
  if (base === undefined) return [];
  const offsetMs = time === null ? null : offsetOf(time.value, answers);
  const names = time === null ? [] : headersIn(time.value);
  const places = names.map((name) => header.indexOf(name));
  return rows.flatMap((row): readonly BaseEpoch[] => {
    // A row may be shorter than its header: such a cell is empty.
    const cell = (place: number): string => (row[place] ?? '').trim();
    const id = cell(base.index);
    if (id === '') return [];
    const text = places.map(cell).join(' ');
    const local = time?.read?.(text) ?? null;
    return [{ id, ms: local === null || offsetMs === null ? null : local - offsetMs }];
  });
}

function headersIn(value: DraftValue): readonly string[] {
  if (typeof value === 'string') return [value];
  const { header } = value as { readonly header?: DraftValue };
  return typeof header === 'string' ? [header] : Array.isArray(header) ? (header as readonly string[]) : [];
}

/** Milliseconds that times as read are ahead of UTC; null while the zone is asked. */
function offsetOf(value: DraftValue, answers: Answers): number | null {
  if (typeof value === 'string') return 0;
  const part = (key: string): DraftValue | undefined =>
    answers.get(`columns.epoch_utc.${key}`) ?? (value as Readonly<Record<string, DraftValue>>)[key];
  if (part('scale') === 'gps') {
    const leap = part('leap_seconds');
    return typeof leap === 'number' ? leap * 1000 : null;
  }
  const zone = part('zone');
  if (zone === undefined) return 0;
  const minutes = typeof zone === 'string' ? zoneMinutesOf(zone) : null;
  return minutes === null ? null : minutes * 60_000;
}
