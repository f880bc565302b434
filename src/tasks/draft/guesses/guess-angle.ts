import { angleReader } from '../../../core/numeric/text/angle-form.js';
import type { AngleWriting } from '../../../core/numeric/text/angle-form.js';
import { parseAngle } from '../../../core/numeric/text/angle-text.js';
import { cellAt, exampleOf } from '../columns/column-profile.js';
import type { ColumnProfile } from '../columns/column-profile.js';
import { ASKED } from '../draft-line.js';
import type { DraftValue } from '../draft-line.js';

/** What is guessed of a column of latitudes or longitudes. */
export interface AngleGuess {
  readonly value: DraftValue;
  readonly why: readonly string[];
  /** The values, degrees; null where the writing is asked. */
  readonly degrees: readonly number[] | null;
  readonly writing: AngleWriting | null;
}

const LIMIT_DEG = { latitude: 90, longitude: 360 } as const;
/** Writings that a header may say, by words of its unit or itself. */
const SAID: readonly (readonly [RegExp, AngleWriting])[] = [
  [/\b(?:gon|grad|grads|grade|gradi centesimali)\b/u, 'gon'],
  [/\b(?:rad|radian|radians|radianti)\b/u, 'rad'],
  [/\bd mmss\b|\bdd mmss\b/u, 'D.MMSS'],
  [/\bddd?mmss\b/u, 'DDMMSS'],
  [/\bddd?mm\b/u, 'DDMM'],
];
const PACKED: readonly AngleWriting[] = ['DDMMSS', 'DDMM'];

/** Guesses how latitudes or longitudes are written. `letters`: the column beside it that holds N and S, or E and W; `beside`: how the other axis is written. */
export function guessAngle(
  column: ColumnProfile,
  axis: 'latitude' | 'longitude',
  decimalComma: boolean,
  letters: ColumnProfile | null,
  beside: AngleWriting | null = null,
): AngleGuess {
  const texts = column.cells.map((cell, index) => (letters === null ? cell : `${cell} ${cellAt(letters, index)}`));
  const header: DraftValue = letters === null ? column.header : [column.header, letters.header];
  const sample = `such as ${exampleOf(texts)}`;
  const said = `${column.form.phrase} ${column.form.unit}`;
  const read = (writing: AngleWriting): readonly number[] | null => readAll(texts, axis, writing, decimalComma);
  const named = SAID.find(([words]) => words.test(said))?.[1] ?? null;
  const as = (writing: AngleWriting, degrees: readonly number[], why: string): AngleGuess => ({
    value: withWriting(header, writing, letters !== null),
    why: [why],
    degrees,
    writing,
  });
  if (named !== null) {
    const degrees = read(named);
    if (degrees !== null) return as(named, degrees, `the header says it; values ${sample}`);
  }
  const packedAsSaid = /\b(?:dms|gms)\b/u.test(said) ? saidPacked(column, axis, read) : null;
  if (packedAsSaid !== null)
    return as(
      packedAsSaid.writing,
      packedAsSaid.degrees,
      `the header says degrees, minutes and seconds, and all values ${sample} are such`,
    );
  const plain = read('deg');
  if (plain !== null)
    return as(
      'deg',
      plain,
      parseAngle(exampleOf(texts), 'any', decimalComma).ok && column.numbers !== null
        ? `decimal degrees ${sample}`
        : `degrees, minutes and seconds set apart, ${sample}`,
    );
  // What could be degrees of the wrong axis is not taken for degrees and minutes.
  const isLarge = column.numbers === null || Math.max(Math.abs(column.least), Math.abs(column.most)) > 360;
  const all = isLarge ? PACKED.filter((writing) => read(writing) !== null) : [];
  // Five digits may be degrees and minutes, or all three: the other axis says which.
  const fitting = beside !== null && all.includes(beside) ? [beside] : all;
  const [packed] = fitting;
  const degrees = packed === undefined ? null : read(packed);
  if (packed !== undefined && degrees !== null && fitting.length === 1)
    return as(
      packed,
      degrees,
      `values ${sample} are no degrees, and all are ${packed === 'DDMM' ? 'degrees and minutes' : 'degrees, minutes and seconds'} run together`,
    );
  return {
    value: { header, unit: ASKED },
    why: [
      `values ${sample}: no ${axis} in degrees`,
      'write "gon", "rad", or "dms" with form = "DDMMSS", "DDMM" or "D.MMSS"',
    ],
    degrees: null,
    writing: null,
  };
}

/** What a header that says degrees, minutes and seconds means by numbers; null where they are none. */
function saidPacked(
  column: ColumnProfile,
  axis: 'latitude' | 'longitude',
  read: (writing: AngleWriting) => readonly number[] | null,
): { readonly writing: AngleWriting; readonly degrees: readonly number[] } | null {
  if (column.numbers === null) return null;
  // Degrees before a point are no more than the axis has; run together they are thousands.
  const isSmall = Math.max(Math.abs(column.least), Math.abs(column.most)) <= LIMIT_DEG[axis];
  const orders: readonly AngleWriting[] = isSmall ? ['D.MMSS', ...PACKED] : PACKED;
  for (const writing of orders) {
    const degrees = read(writing);
    if (degrees !== null) return { writing, degrees };
  }
  return null;
}

function readAll(
  texts: readonly string[],
  axis: 'latitude' | 'longitude',
  writing: AngleWriting,
  decimalComma: boolean,
): readonly number[] | null {
  const reader = angleReader(writing, axis, decimalComma);
  const values: number[] = [];
  for (const text of texts) {
    const value = reader(text);
    if (value === null || value > LIMIT_DEG[axis] || value < -(axis === 'latitude' ? 90 : 180)) return null;
    values.push(axis === 'longitude' && value > 180 ? value - 360 : value);
  }
  return values.length === 0 ? null : values;
}

function withWriting(header: DraftValue, writing: AngleWriting, hasLetters: boolean): DraftValue {
  switch (writing) {
    case 'deg':
      return hasLetters ? { header } : header;
    case 'gon':
    case 'rad':
    case 'dms':
      return { header, unit: writing };
    default:
      return { header, unit: 'dms', form: writing };
  }
}
