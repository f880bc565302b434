import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, it } from 'vitest';
import { ROOT } from '../../support/repository-files.js';
import { runInProcess } from '../../support/run-in-process.js';
import { textOfPage } from '../../support/page-text.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-transfers-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** The columns of --transfers that the page is held against. */
interface Row {
  readonly kind?: string;
  readonly from_id?: string;
  readonly to_id?: string;
  readonly verdict?: string;
  readonly misclosure_m?: string;
  readonly test?: string;
}

async function carried(name: string, levelled: string): Promise<{ page: string; rows: Row[] }> {
  const own = join(folder, name);
  const source = join(ROOT, 'tests/cases/fit-site', name);
  cpSync(source, own, { recursive: true });
  for (const path of readFileSync(join(source, 'uses'), 'utf8').split('\n').filter(Boolean))
    cpSync(join(ROOT, path), join(own, basename(path)));
  const { exit, stderr } = await runInProcess(
    `fit-site points.csv --control benchmarks.csv --system EPSG:2049 --vertical surface --levelled ${levelled} --transfers out-transfers.csv -o out.csv --report out.html`.split(
      ' ',
    ),
    { cwd: own },
  );
  expect(exit, stderr).toBeLessThan(2);
  return {
    page: textOfPage(readFileSync(join(own, 'out.html'), 'utf8')),
    rows: parse(readFileSync(join(own, 'out-transfers.csv')), { columns: true }),
  };
}

// The page is held against the table of the same run, which golden cases and tests of the transfer hold against sources.
describe('heights carried over a site, on its page', () => {
  it('has every row of the table, and the worst on the first screen', async () => {
    const { page, rows } = await carried('a-surface-of-heights-is-chosen-by-leaving-out', 'levelled.csv');
    const lines = page.split('\n').map((text) => text.replaceAll('−', '-'));
    expect(rows.length).toBeGreaterThan(3);
    const own = rows.filter(({ kind }) => kind === 'levelled');
    expect(own.length).toBe(3);
    for (const row of rows) {
      const found = lines.find((text) => text.startsWith(`${row.from_id ?? ''} | ${row.to_id ?? ''} |`));
      expect(found?.split(' | ').at(-1), JSON.stringify(row)).toBe(row.verdict);
      expect(Number(found?.split(' | ')[5]) / 1000).toBeCloseTo(Number(row.misclosure_m), 3);
      expect(Number(found?.split(' | ')[7])).toBeCloseTo(Number(row.test), 1);
    }
    const worst: Row = own.toSorted((a, b) => Math.abs(Number(b.test)) - Math.abs(Number(a.test)))[0] ?? {};
    expect(page).toContain(
      `Heights carried along levelled lines. 3 of 3 within 12 mm √km, none beyond what its sigma allows. The worst: ${worst.from_id ?? ''} to ${worst.to_id ?? ''},`,
    );
  });

  it('names a levelled line that is off, and says what to do', async () => {
    const { page, rows } = await carried('a-levelled-line-that-is-off-ends-with-one', 'off.csv');
    const off: Row = rows.find(({ kind, verdict }) => kind === 'levelled' && verdict === 'no') ?? {};
    expect(page).toMatch(/Heights carried along levelled lines\. .* 1 beyond what its sigma allows/u);
    expect(page).toContain(`Next. Measure ${off.from_id ?? ''} and ${off.to_id ?? ''} again`);
  });
});
