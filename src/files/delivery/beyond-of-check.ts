import { resolve } from 'node:path';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { CsvTable } from '../../io/csv/csv-read.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { LedgerOutput } from '../../records/runs/ledger.js';
import type { DeliveryCheck } from '../../records/reports/delivery-report.js';
import { workingFolder } from '../tables/as-it-stands.js';
import { readSideTable } from '../tables/side-table.js';

type Beyond = DeliveryCheck['beyond'];
type Found = Beyond[number] & { readonly share: number };

const AXES = [
  { name: 'in plan', size: 'horizontal_m', margin: 'horizontal_margin_m', limit: 'horizontal_limit_m' },
  { name: 'in height', size: 'difference_height_m', margin: 'vertical_margin_m', limit: 'vertical_limit_m' },
] as const;

/**
 * What a delivered table of comparisons says is beyond, the farthest against its limit first, each point and axis once. Given: the folder of the job; the table. A file
 * of another kind, such as a register or JSON, says nothing here.
 */
export async function beyondOfCheck(folder: string, { name }: Pick<LedgerOutput, 'name'>): Promise<Beyond> {
  if (!/\.csv$/iu.test(name)) return [];
  const read = await readSideTable(resolve(folder, name), foundIn, workingFolder());
  const largest = new Map<string, Found>();
  for (const found of read.ok ? read.value.rows : []) {
    const key = `${found.at}\n${found.name}`;
    const held = largest.get(key);
    if (held === undefined || found.share > held.share) largest.set(key, found);
  }
  return [...largest.values()]
    .toSorted((a, b) => b.share - a.share)
    .map(({ name: axis, value, at }) => ({ name: axis, value, at }));
}

async function foundIn(table: CsvTable): Promise<Outcome<readonly Found[]>> {
  const column = (name: string): number => table.header.indexOf(name);
  const [point, verdict] = [column('point_id'), column('verdict')];
  if (column('check') < 0 || point < 0 || verdict < 0) return success([]);
  const axes = AXES.map(({ name, size, margin, limit }) => ({
    name,
    size: column(size),
    margin: column(margin),
    limit: column(limit),
  }));
  const found: Found[] = [];
  for await (const block of table.blocks()) {
    if (!block.ok) return block;
    for (const row of block.value.rows()) {
      if (row[verdict] !== 'no') continue;
      const number = (at: number): number | null => parseDecimal(row[at] ?? ''); // A column that was not written.
      const own = axes.flatMap(({ name, size, margin, limit }) => {
        const [sizeM, marginM, limitM] = [number(size), number(margin), number(limit)];
        return sizeM === null ? [] : [{ name, sizeM: Math.abs(sizeM), marginM, limitM }];
      });
      // Without a limit the uncertainty has judged, and both axes are told.
      const beyond = own.some(({ marginM }) => marginM !== null)
        ? own.filter(({ marginM }) => marginM !== null && marginM < 0)
        : own;
      for (const { name, sizeM, limitM } of beyond)
        found.push({
          at: row[point] ?? '', // As above.
          name,
          value: formatFixed(sizeM, 3),
          share: limitM === null || !(limitM > 0) ? 0 : sizeM / limitM,
        });
    }
  }
  return success(found);
}
