import { describe, expect, it } from 'vitest';
import { yearText } from '../src/core/frames/realisations/realisation-chain.js';
import { REALISATIONS } from '../src/core/frames/realisations/realisation-table.js';
import { textOf } from './support/repository-files.js';

// The table of the page, made from that of the code.
const rows = REALISATIONS.map(({ name, codes, itrf, epochYear, plate, operation, source, note }) => {
  const is = operation === null ? `${itrf} at ${yearText(epochYear)}` : `reached from ${itrf}`;
  const by = operation ?? plate ?? '`--plate`';
  const systems = codes.map((code) => code.slice('EPSG:'.length)).join(', ');
  return `| ${name} | ${systems} | ${is} | ${by} | ${source.key}${note === null ? '' : `; ${note}`} |`;
});

describe('docs/methods/national-frames.md', () => {
  it('has every row of the table, as it is', () => {
    const page = textOf('docs/methods/national-frames.md').split('\n');
    const written = page.filter((line) => /^\| .* \| \d/u.test(line));
    expect(written).toEqual(rows);
  });
});
