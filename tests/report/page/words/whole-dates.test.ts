import { describe, expect, it } from 'vitest';
import { baseNames } from '../../../../src/report/page/words/base-names.js';
import { trueMinus } from '../../../../src/report/page/words/numbers.js';
import { withWholeDates } from '../../../../src/report/page/words/whole-dates.js';
import { plainText } from '../../../support/table-cells.js';

// A date may not be broken at its hyphens, and nothing that a reader or another program takes from a page may change by that.
describe('dates of a page', () => {
  it('stay whole, and a line may end before the time', () => {
    expect(withWholeDates('<p>from 2026-03-04T07:00:00Z to 2026-03-05</p>')).toBe(
      '<p>from <span class="d">2026-03-04</span><wbr><span class="d">T07:00:00Z</span> to <span class="d">2026-03-05</span></p>',
    );
    expect(withWholeDates('<td>2026-04-01/1</td>')).toBe('<td><span class="d">2026-04-01</span>/1</td>');
  });

  it('are left alone in titles, code, styles, attributes and words of drawings', () => {
    for (const html of [
      '<title>The sky of 2026-03-04</title>',
      '<p class="a" title="2026-03-04">x</p>',
      '<code>--date 2026-03-04</code>',
      '<svg><title>2026-03-04</title><desc>2026-03-04</desc><text x="1">2026-03-04</text></svg>',
      '<style>a{b:2026-03-04}</style>',
      '<p>12345-2026-03-04-7</p>',
    ])
      expect(withWholeDates(html)).toBe(html);
  });

  it('read as before', () => {
    const html = '<h1>Day of 2026-03-04</h1><p>a &lt; b 2026-03-04T07:00Z</p><text>2026-03-04</text><p>2026-03-04</p>';
    expect(plainText(withWholeDates(html))).toBe(plainText(html));
    expect(withWholeDates(html).split('class="d"')).toHaveLength(5);
  });
});

describe('words of the terminal on a page', () => {
  it('have a true minus before numbers, and hyphens elsewhere', () => {
    expect(trueMinus('C3 lies -43.5 mm (-2.4 ppm) from 2026-05-15 on, QP-04, --exclude, 3-4')).toBe(
      'C3 lies \u221243.5 mm (\u22122.4 ppm) from 2026-05-15 on, QP-04, --exclude, 3-4',
    );
  });
});

describe('set-ups of a base', () => {
  it('stand under one name with their number, a single one as it is called', () => {
    expect(baseNames(['B1 on 2026-04-01', 'B1 on 2026-04-02', 'B2 on 2026-04-02', 'peg on hill', 'B3'])).toEqual([
      { name: 'B1', setUps: 2 },
      { name: 'B2 on 2026-04-02', setUps: 1 },
      { name: 'peg on hill', setUps: 1 },
      { name: 'B3', setUps: 1 },
    ]);
  });
});
