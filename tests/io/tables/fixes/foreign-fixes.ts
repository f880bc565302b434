import { DEFAULT_DIALECT } from '../../../../src/io/csv/csv-dialect.js';
import { readCsv } from '../../../../src/io/csv/csv-read.js';
import type { GeoidModel } from '../../../../src/core/geoid/geoid-height.js';
import type { RejectedRow } from '../../../../src/io/tables/columns/row-loop.js';
import type { FixPlaces } from '../../../../src/io/tables/fixes/fix-row.js';
import { readFixes } from '../../../../src/io/tables/fixes/fixes-read.js';
import type { FixInput } from '../../../../src/io/tables/fixes/fixes-read.js';
import type { Outcome } from '../../../../src/records/outcome.js';
import type { Fix } from '../../../../src/records/points/fix.js';
import type { ColumnMapping } from '../../../../src/records/settings/column-reading.js';
import { stdinSource, value } from '../../support.js';

type Places = Omit<FixPlaces, 'toGeodetic'>;

/** Opens a table of fixes under a map of columns. */
export async function openFixesOf(
  text: string,
  mapping: ColumnMapping,
  places: Places = {},
): Promise<Outcome<FixInput>> {
  const table = value(await readCsv(await stdinSource(text), DEFAULT_DIALECT));
  const toGeodetic = (): Fix['geodetic'] => ({ latitudeDeg: 1, longitudeDeg: 2, ellipsoidalHeightM: 3 });
  return readFixes(table, { sourceIndex: 0, mapping, toGeodetic, ...places });
}

/** Its fixes and the rows that are refused. */
export async function readFixesOf(
  text: string,
  mapping: ColumnMapping,
  places: Places = {},
): Promise<{ fixes: Fix[]; rejected: RejectedRow[] }> {
  const fixes: Fix[] = [];
  const rejected: RejectedRow[] = [];
  for await (const block of value(await openFixesOf(text, mapping, places)).blocks()) {
    fixes.push(...value(block).fixes);
    rejected.push(...value(block).rejected);
  }
  return { fixes, rejected };
}

/** A geoid of one height everywhere, or of none. */
export function egm96Like(heightM: number | null): GeoidModel {
  return {
    grid: { name: 'flat.gtx', sha256: null, frame: null, levels: [] } as unknown as GeoidModel['grid'],
    interpolation: 'bilinear',
    heightAt: () => heightM,
    statusAt: () => (heightM === null ? 'outside' : 'inside'),
  };
}
