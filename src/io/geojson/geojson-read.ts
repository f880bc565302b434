import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { readFixes } from '../tables/fixes/fixes-read.js';
import type { FixBlock, FixInput, FixReadOptions } from '../tables/fixes/fixes-read.js';
import { geojsonPlace, openGeojsonTable } from './geojson-table.js';
import type { Source } from '../bytes/source.js';

/**
 * Reads fixes from a GeoJSON FeatureCollection of points, by the same names as the columns of a CSV file.
 * Problems: those of `openGeojsonTable` and of `readFixes`, placed by their path in the document.
 */
export async function readGeojsonFixes(source: Source, options: FixReadOptions): Promise<Outcome<FixInput>> {
  const table = await openGeojsonTable(source);
  if (!table.ok) return table;
  const input = readFixes(table.value, options);
  if (!input.ok) return { ok: false, problems: input.problems.map(geojsonPlace) };

  async function* blocks(inner: AsyncGenerator<Outcome<FixBlock>>): AsyncGenerator<Outcome<FixBlock>> {
    for await (const block of inner) {
      if (!block.ok) {
        yield block;
        return;
      }
      const rejected = block.value.rejected.map((row) => ({ ...row, problems: row.problems.map(geojsonPlace) }));
      yield success({ ...block.value, rejected, warnings: block.value.warnings.map(geojsonPlace) });
    }
  }
  return success({ ...input.value, blocks: () => blocks(input.value.blocks()) }, input.problems);
}
