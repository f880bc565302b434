import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { apply, scratch, transformer } from './agreement.js';
import type { Heights } from './agreement.js';

const rows = readReferenceTable('vertical-offsets').map((row) => ({ name: row.case, row }));
const ORTHOMETRIC: Heights = ['orthometric', 'orthometric'];
const SYSTEMS = { from: 'EPSG:4326', to: 'EPSG:4326' };

describe('a shift file of EPSG 9616, vertical offset', () => {
  it.each(rows)('$name: the published height, the way back, and a hundred round trips', async ({ name, row }) => {
    const shift = `${name}.toml`;
    writeFileSync(join(scratch, shift), `method = "EPSG:9616"\nvertical_offset_m = ${row.text('offset_m')}\n`);
    const there = await transformer({ ...SYSTEMS, shift }, ORTHOMETRIC);
    const back = await transformer({ ...SYSTEMS, shift, inverse: true }, ORTHOMETRIC);
    const [source, target] = [row.number('source_m'), row.number('target_m')];
    expect(Math.abs(apply(there, [40, 50, source])[2] - target)).toBeLessThanOrEqual(row.tolerance);
    expect(Math.abs(apply(back, [40, 50, target])[2] - source)).toBeLessThanOrEqual(row.tolerance);
    let heightM = source;
    for (let i = 0; i < 100; i += 1) heightM = apply(back, apply(there, [40, 50, heightM]))[2];
    expect(Math.abs(heightM - source)).toBeLessThan(1e-10);
  });
});
