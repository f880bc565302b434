import { noisyDay } from '../../core/quality/day/noisy-day.js';
import type { DayPoint } from '../../core/quality/day/day-contrasts.js';
import { entryAt } from '../../records/present.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { DayAtBaseline, DayVariance } from '../../records/reports/parts/day-variance.js';
import type { ModelSettings } from '../../records/session.js';

/** Points named one by one; the rest are counted. */
const MOST_NAMED = 5;

/** What the repeats of a run say of the day; nothing of it is applied yet. Null: they say nothing. */
export function dayOfRepeats(repeats: readonly DayPoint[]): DayVariance | null {
  const day = noisyDay(repeats);
  return day === null ? null : { ...day, isApplied: false };
}

/** The same, to be applied where the day was noisier than its model. */
export function applied(day: DayVariance | null): DayVariance | null {
  return day === null ? null : { ...day, isApplied: day.isNoisier };
}

/**
 * What is said of a day that was noisier than its model.
 *
 * Given: what the repeats say; the settings of the model; how to count it, what the points are and whose noise it is, in words. Returned: one line, none where it was not noisier.
 */
export function dayLines(
  day: DayVariance | null,
  precision: ModelSettings,
  toCountIt: string,
  sources = 'repeated points',
  who = 'the day was',
): readonly string[] {
  if (day?.isNoisier !== true) return [];
  const { points, contrasts, isApplied, leftOut, allowed } = day;
  const sizes = day.byBaseline.map((own) => `${figure(own.factor)} (${interval(own)})`);
  // The same at several distances is said once; where there is but one, how far it was seen.
  const said =
    sizes.length > 1 && new Set(sizes).size === 1
      ? sizes.slice(0, 1)
      : day.byBaseline.map((own, index) => `${entryAt(sizes, index)} ${rangeWords(own)}`);
  const part = PART_WORDS[day.part];
  const sigma = figure(Math.sqrt(allowed));
  const consequence = isApplied
    ? `applied: the sigmas of ${part} are ${sigma} times as large`
    : `not applied: the sigmas of ${part} are too small by a factor of ${figure(Math.sqrt(day.factor))} (${toCountIt})`;
  const blunders =
    leftOut.length === 0
      ? ''
      : `; left out, as differing by more than noise: ${leftOut.slice(0, MOST_NAMED).join(', ')}${leftOut.length > MOST_NAMED ? ` and ${String(leftOut.length - MOST_NAMED)} more` : ''}`;
  return [
    `${who} noisier than ${modelName(precision)}: variance factor ${said.join(', ')}, by ${String(contrasts)} differences of ${String(points)} ${sources}; ${consequence}${blunders}`,
  ];
}

/** Why an estimate that was asked for changed nothing; null where it did. */
export function dayUnchanged(
  day: DayVariance | null,
  precision: ModelSettings,
  sources: keyof typeof SOURCES = 'repeats',
): string | null {
  if (day === null) return `no variance factor of the day: ${SOURCES[sources].none}`;
  if (day.isApplied) return null;
  return `no variance factor applied: ${SOURCES[sources].who} not show the day noisier than ${modelName(precision)} (${figure(day.factor)}, ${interval(day)}, of ${PART_WORDS[day.part]})`;
}

const SOURCES = {
  repeats: { who: 'the repeats do', none: 'no point was occupied again from one base mark' },
  check: {
    who: 'repeats and control do',
    none: 'no point was occupied again from one base mark, and control says nothing of it',
  },
} as const;

const PART_WORDS = { growing: 'what grows with the baseline', all: 'the model' } as const;

function interval({ low95, high95 }: Pick<DayVariance, 'low95' | 'high95'>): string {
  return Number.isFinite(high95) ? `${figure(low95)} to ${figure(high95)}` : `at least ${figure(low95)}`;
}

function modelName({ conditions, horizontal, vertical }: ModelSettings): string {
  return horizontal !== null && vertical !== null ? 'the stated precision' : `${conditions} conditions`;
}

function rangeWords({ fromM, toM }: DayAtBaseline): string {
  if (fromM === 0) return `up to ${String(toM / 1000)} km`;
  return toM === Infinity
    ? `beyond ${String(fromM / 1000)} km`
    : `from ${String(fromM / 1000)} to ${String(toM / 1000)} km`;
}

function figure(value: number): string {
  return formatFixed(value, 1);
}
