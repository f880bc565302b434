import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { DeliveryReport } from '../../../src/records/reports/delivery-report.js';
import { PROBLEM_CODES } from '../../../src/records/codes/problem-codes.js';
import { frontSheet } from '../../../src/report/delivery/front-sheet.js';
import { hasBrowser, openBrowser, printed } from '../../support/browser.js';
import { htmlFaults } from '../../support/html-faults.js';
import { SOME_LOOKS, expectGoodLooks } from '../../support/page-looks.js';
import { plainText } from '../../support/table-cells.js';

// The front sheet of the fullest delivery that it has room for: what it shows of lists is bounded, and it is one sheet of paper to sign.
const DIGEST = 'e53690f2dc24cddff0eb43b75b1f965332f526e957e1735ec530a46d1e1da45a';
const place = [
  { name: 'at', value: 'mark' },
  { name: 'ellipsoidal_height_m', value: '1041.8808' },
  { name: 'southing_m', value: '3486480.5369' },
  { name: 'westing_m', value: '-38001.0713' },
];
const FULL: DeliveryReport = {
  rejected: [],
  review: [],
  title: 'Quillback Pan water scheme, pipe route and points (invented)',
  client: "the scheme's own water users (invented)",
  surveyor: 'A. Surveyor (invented)',
  observers: ['B. Observer (invented)'],
  instruments: ['receiver R1, antenna A1 (invented)', 'base B1: receiver R2, antenna A2 (invented)'],
  timeUtc: '2026-05-28T20:26:40Z',
  toolVersion: '0.1.0',
  days: Array.from({ length: 12 }, (_, index) => `2026-05-${String(index + 11)}`),
  firstEpoch: '2026-05-11T06:00:00Z',
  lastEpoch: '2026-05-22T07:30:11Z',
  answer: 'within',
  counts: new Map([
    ['accepted', 120],
    ['review', 0],
    ['rejected', 0],
  ]),
  reasons: new Map(),
  points: 120,
  worst: { plan: { name: 'QP-04', value: '0.0251' }, height: { name: 'QP-05', value: '0.1039' } },
  extent: [
    { name: 'westing_m', value: '-41215.7302 to -4046.8376' },
    { name: 'southing_m', value: '3485368.6499 to 3503709.2514' },
    { name: 'orthometric_height_m', value: '1010.3091 to 1072.6570' },
    { name: 'latitude_deg', value: '-31.656000499 to -31.489950024' },
    { name: 'longitude_deg', value: '21.042668250 to 21.433921191' },
  ],
  systems: [
    { name: 'fixes', value: 'EPSG:4148 Hartebeesthoek94' },
    { name: 'grid', value: 'EPSG:2049 Hartebeesthoek94 / Lo21' },
    { name: 'epoch', value: '2026.17' },
  ],
  grids: [
    { name: 'geoid (bilinear)', value: 'geoid.csv', sha256: DIGEST, test: 'N 27.4800 m at -31.500000, 21.250000' },
  ],
  bases: Array.from({ length: 9 }, (_, index) => ({
    id: `B${String(index + 1)}`,
    days: ['2026-05-11', '2026-05-12'],
    kind: 'known' as const,
    place,
  })),
  checks: Array.from({ length: 6 }, () => ({
    command: 'check-tolerances',
    what: 'check against control and repeats',
    reasons: new Map(),
    largest: [{ name: 'in plan', value: '0.053', at: 'C3' }],
    beyond: [],
    answer: 'within' as const,
    counts: new Map([['within', 120]]),
    by: ['limit in plan 0.08 m', 'limit in height 0.15 m', 'accuracy of positions at 95 % from check points (NSSDA)'],
  })),
  edits: Array.from(
    { length: 7 },
    () =>
      'Left out: QP-32, day 2026-03-10, occupation 1, 1 occupation (the fix jumped as the receiver was set up again).',
  ),
  notes: ['No GeoJSON: the frame of latitude and longitude is not WGS 84 to about a metre.'],
  coordinatesSha256: DIGEST,
  ledgerSha256: DIGEST,
};
const textOf = (report: DeliveryReport): string =>
  plainText(frontSheet(report).replaceAll(/<style>[\s\S]*?<\/style>/gu, '')).replaceAll(/\s+/gu, ' ');

describe('the front sheet', () => {
  it('answers first: whether all is within, what checked it, how sure it is at worst', () => {
    const text = textOf(FULL);
    const order = [
      'Within. 120 points',
      'Checked. check against control and repeats: within (120 within; largest in plan 0.053 m (C3))',
      'Least sure at 95 %: in plan 0.0251 m (QP-04), in height 0.1039 m (QP-05).',
      'What and for whom',
    ];
    const places = order.map((words) => text.indexOf(words));
    expect(places.every((one) => one >= 0)).toBe(true);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  it('is not within where a check says no, though the reduction is, and says where nothing checked', () => {
    const [first] = FULL.checks;
    if (first === undefined) throw new Error('no check');
    const failing = { ...FULL, checks: [{ ...first, answer: 'no' as const, counts: new Map([['no', 3]]) }] };
    expect(textOf(failing)).toContain('Not within. 120 points');
    expect(textOf(failing)).toContain('check against control and repeats: no (3 no; largest in plan 0.053 m (C3))');
    expect(textOf({ ...FULL, checks: [] })).toContain('Not checked. No check of these coordinates is part');
    expect(textOf({ ...FULL, answer: 'review' })).toContain('For review. 120 points');
    expect(textOf({ ...FULL, answer: 'error' })).toContain('Not within. 120 points');
  });

  it('says what is next where something is open, without codes, and names the points that have no coordinate first', () => {
    expect(textOf(FULL)).toContain('Next. Verify the digests, sign, and keep this sheet');
    const gone = ['P1', 'P4', 'P7', 'P10', 'P13', 'P16', 'P19', 'P22'];
    const named = 'Measure again, since they have no coordinate: P1, P4, P7, P10, P13, P16 and 2 more. ';
    expect(textOf({ ...FULL, rejected: gone, checks: [] })).toContain(`Next. ${named}Hold the coordinates`);
    expect(textOf({ ...FULL, answer: 'no', rejected: ['P1'] })).toContain('since it has no coordinate: P1.');
    expect(textOf({ ...FULL, checks: [] })).toContain('Next. Hold the coordinates against control');
    const reasons = new Map([
      ['point-repeat-disagrees', 2],
      ['no-such-code', 9],
    ]);
    const check = { ...FULL.checks[0]!, answer: 'no' as const, reasons: new Map([['check-horizontal-limit', 24]]) };
    const text = textOf({ ...FULL, answer: 'review', reasons, checks: [check] });
    const [first, second] = [PROBLEM_CODES['check-horizontal-limit'].fix, PROBLEM_CODES['point-repeat-disagrees'].fix];
    expect(text).toContain(
      `Next, before anyone signs. Look first at C3 (in plan 0.053 m). What mends the commonest reasons: ${first}; ${second}.`,
    );
  });

  it('names what a check found beyond and what is for review, and tells sizes where no record does', () => {
    const beyond = Array.from({ length: 9 }, (_, at) => ({ at: `C-${String(at)}`, name: 'in plan', value: '0.090' }));
    const check = { ...FULL.checks[0]!, answer: 'no' as const, largest: [], beyond };
    const text = textOf({ ...FULL, answer: 'review', review: ['QP-03', 'QP-06'], checks: [check] });
    expect(text).toContain('largest in plan 0.090 m (C-0), in plan 0.090 m (C-1))');
    expect(text).toMatch(
      /Look first at C-0 \(in plan 0\.090 m\), .*C-5 \(in plan 0\.090 m\) and 3 more\. Settle what is for review: QP-03, QP-06\./u,
    );
    // What agrees is not looked at, though its table has a largest difference.
    expect(textOf({ ...FULL, answer: 'review', review: ['QP-03'] })).toContain(
      'signs. Settle what is for review: QP-03.',
    );
  });

  it('names who measured and with what, and days in a row from first to last', () => {
    const text = textOf(FULL);
    expect(text).toContain('Observer B. Observer (invented)'.replace(' ', ''));
    expect(text).toContain('base B1: receiver R2, antenna A2 (invented)');
    expect(text).toContain('2026-05-11 to 2026-05-22 (12)');
    expect(textOf({ ...FULL, days: ['2026-05-11', '2026-05-13', '2026-05-14'] })).toContain(
      '2026-05-11, 2026-05-13, 2026-05-14 (3)',
    );
    expect(text).toContain('2026-05-11, 06:00:00 UTC');
  });

  it('is signed by who hands over and who receives, with what each signs and both digests', () => {
    const text = textOf(FULL);
    expect(text).toContain('Handed over: A. Surveyor (invented)');
    expect(text).toContain("Received: the scheme's own water users (invented)");
    expect(text.split('Signature').length - 1).toBe(2);
    expect(text.split(DIGEST).length - 1).toBe(3);
    expect(textOf({ ...FULL, surveyor: null })).toContain('Handed over This is what was computed');
  });

  it('writes places as people read them', () => {
    const text = textOf(FULL);
    expect(text).toContain(
      'westing \u221238001.0713 m; southing 3486480.5369 m; ellipsoidal height 1041.8808 m; at mark',
    );
    expect(text).toContain('Westing, m\u221241216 to \u22124047');
    expect(text).toContain('Latitude, °\u221231.6560 to \u221231.4900');
  });

  it.skipIf(!hasBrowser)(
    'is one sheet of A4 at its fullest, and good at every width',
    async () => {
      const folder = mkdtempSync(join(tmpdir(), 'pegbook-sheet-'));
      const browser = await openBrowser();
      try {
        const path = join(folder, 'front.html');
        const open = FULL.checks.map((check) => ({
          ...check,
          answer: 'no' as const,
          reasons: new Map([
            ['check-horizontal-limit', 24],
            ['point-repeat-disagrees', 2],
            ['check-vertical-limit', 12],
          ]),
        }));
        writeFileSync(path, frontSheet({ ...FULL, answer: 'no', checks: open }));
        const pages = (await printed(browser, path)).toString('latin1').match(/\/Type\s*\/Page[^s]/gu);
        expect(pages, 'a sheet on which something is open').toHaveLength(1);
        writeFileSync(path, frontSheet(FULL));
        expect(await htmlFaults(frontSheet(FULL))).toEqual([]);
        expect((await printed(browser, path)).toString('latin1').match(/\/Type\s*\/Page[^s]/gu)).toHaveLength(1);
        await expectGoodLooks(browser, path, SOME_LOOKS);
      } finally {
        await browser.close();
        rmSync(folder, { recursive: true, force: true });
      }
    },
    60_000,
  );
});
