import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { parseUtc } from '../../core/numeric/text/parse-utc.js';
import { formatUtc } from '../../core/numeric/text/utc-text.js';
import type { RunSummary } from '../../records/runs/run-summary.js';
import type { JsonMembers } from './json/json-members.js';

/** Decimals of the figures: those of metres in tables. */
const DECIMALS = 4;

/** `summary` of a run record, described in docs/file-formats.md. */
export function runSummaryJson({
  title,
  points,
  firstEpochMs,
  lastEpochMs,
  bases,
  largest,
}: RunSummary): Readonly<Record<string, unknown>> {
  return {
    title,
    points,
    first_epoch_utc: firstEpochMs === null ? null : formatUtc(firstEpochMs),
    last_epoch_utc: lastEpochMs === null ? null : formatUtc(lastEpochMs),
    bases,
    largest: largest.map(({ figure, value, at }) => ({
      figure,
      value: parseDecimal(formatFixed(value, DECIMALS)),
      at,
    })),
  };
}

/** Reads what `runSummaryJson` writes. A member that is not of its kind is refused with its place. */
export function readRunSummary(members: JsonMembers): RunSummary {
  const time = (key: string): number | null => {
    const text = members.textOrNull(key);
    if (text === null) return null;
    const parsed = parseUtc(text);
    if (typeof parsed === 'number') return parsed;
    members.refuse(key, 'a time in UTC');
    return null;
  };
  return {
    title: members.text('title'),
    points: members.number('points'),
    firstEpochMs: time('first_epoch_utc'),
    lastEpochMs: time('last_epoch_utc'),
    bases: members.texts('bases'),
    largest: members
      .objects('largest')
      .map((one) => ({ figure: one.text('figure'), value: one.number('value'), at: one.text('at') })),
  };
}
