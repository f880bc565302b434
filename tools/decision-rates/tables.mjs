// Markdown tables of rates, each with its interval and, where known, what it was before.
import { rateText, wilson } from './intervals.mjs';

/** Counts that the first run did not keep. */
const NEW_COUNTS = new Set(['contradicts', 'left to chance']);

/** `{ of, counts }` of a job as a cell: rate and interval of the count `key`, then what it was. */
export function rateCell({ id, key, of = null }, results, before) {
  const now = counted(results?.[id], key, of);
  if (now === null) return '–';
  // A count that the old run did not keep is not a count of none.
  const isNew = NEW_COUNTS.has(key) && !(key in (before?.[id]?.counts ?? {}));
  const was = isNew ? null : counted(before?.[id], key, of);
  return was === null ? rateText(...now) : `${rateText(...now)}; was ${shortPercent(...was)}`;
}

/** Count and total: of the job's own total, or of another of its counts. */
export function counted(result, key, of) {
  if (!result) return null;
  const total = of === null ? result.of : (result.counts[of] ?? 0);
  const keys = Array.isArray(key) ? key : [key];
  return [keys.reduce((sum, name) => sum + (result.counts[name] ?? 0), 0), total];
}

function shortPercent(count, of) {
  const { rate } = wilson(count, of);
  return of === 0 ? '–' : `${(100 * rate).toFixed(1)} %`;
}

/** A table: every cell text or `{ id, key, of }`. */
export function rateTable({ head, rows, results, before }) {
  const lines = [`| ${head.join(' | ')} |`, `|${head.map((_, i) => (i === 0 ? '---' : '---:')).join('|')}|`];
  for (const row of rows)
    lines.push(
      `| ${row.map((cell) => (typeof cell === 'string' ? cell : rateCell(cell, results, before))).join(' | ')} |`,
    );
  return `${lines.join('\n')}\n`;
}
