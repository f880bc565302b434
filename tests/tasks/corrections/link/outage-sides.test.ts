import { describe, expect, it } from 'vitest';
import type { CorrectionAudit } from '../../../../src/records/corrections/correction-audit.js';
import type { LinkOutage, LinkReport } from '../../../../src/records/corrections/link-report.js';
import { withSides } from '../../../../src/tasks/corrections/link/outage-sides.js';

// A recorded stream whose times are seconds of a day; UTC is eighteen seconds behind them.
const ZERO_MS = Date.UTC(2026, 2, 4);
type Span = readonly [number, number];

interface Heard {
  readonly recorded: Span | null;
  readonly silent?: readonly Span[];
}

/** Files by the seconds they span, and what was heard of each station. */
function audit(files: readonly Span[], stations: readonly Heard[], isDated = true): CorrectionAudit {
  return {
    calendar: { zeroMs: isDated ? ZERO_MS : null, leapSeconds: 18 },
    files: files.map(([from, to]) => ({ firstMs: from * 1000, lastMs: to * 1000 })),
    stations: stations.map(({ recorded, silent = [] }) => ({
      epochs: {
        firstMs: recorded === null ? null : recorded[0] * 1000,
        lastMs: recorded === null ? null : recorded[1] * 1000,
        gaps: { listed: silent.map(([from, to]) => ({ fromMs: from * 1000, toMs: to * 1000 })), leftOut: 0 },
      },
    })),
  } as unknown as CorrectionAudit;
}

/** Whose an outage of these seconds of the stream is. */
function side([from, to]: Span, heard: CorrectionAudit, more: Partial<LinkOutage> = {}): LinkOutage['side'] {
  const utc = (second: number): number => ZERO_MS + (second - 18) * 1000;
  const outage = { fromMs: utc(from), toMs: utc(to), silentFromMs: null, side: 'unknown', ...more } as LinkOutage;
  const report = { outages: { listed: [outage], leftOut: 0 } } as unknown as LinkReport;
  return withSides(report, heard).outages.listed[0]?.side ?? 'none';
}

const ALL_DAY: Span = [0, 86_400];

describe('whose an outage of the link is', () => {
  it.each<readonly [string, LinkOutage['side'], Span, readonly Heard[]]>([
    ['the rover lost what the base sent', 'rover', [100, 200], [{ recorded: ALL_DAY }]],
    ['the base was silent all the while', 'base', [100, 200], [{ recorded: ALL_DAY, silent: [[90, 210]] }]],
    ['the base was silent half of it', 'base', [100, 200], [{ recorded: ALL_DAY, silent: [[90, 150]] }]],
    ['the base was silent less than half of it', 'rover', [100, 200], [{ recorded: ALL_DAY, silent: [[90, 149]] }]],
    [
      'two short silences make no long one',
      'rover',
      [100, 200],
      [
        {
          recorded: ALL_DAY,
          silent: [
            [100, 140],
            [150, 190],
          ],
        },
      ],
    ],
    ['it was silent at another time', 'rover', [100, 200], [{ recorded: ALL_DAY, silent: [[300, 400]] }]],
    ['nothing was recorded then', 'unknown', [100, 200], [{ recorded: [300, 400] }]],
    ['half of it was recorded', 'rover', [100, 200], [{ recorded: [150, 400] }]],
    ['less than half of it was recorded', 'unknown', [100, 200], [{ recorded: [151, 400] }]],
    ['no time of the station is known', 'unknown', [100, 200], [{ recorded: null }]],
    ['nothing was recorded at all', 'unknown', [100, 200], []],
    ['two stations say the same', 'rover', [100, 200], [{ recorded: ALL_DAY }, { recorded: ALL_DAY }]],
    [
      'two stations say different things',
      'unknown',
      [100, 200],
      [{ recorded: ALL_DAY }, { recorded: ALL_DAY, silent: [[90, 210]] }],
    ],
    [
      'one station says something and the other was not there',
      'rover',
      [100, 200],
      [{ recorded: ALL_DAY }, { recorded: null }],
    ],
  ])('%s: %s', (_, expected, outage, stations) => {
    expect(side(outage, audit([ALL_DAY], stations))).toBe(expected);
  });

  it('counts from when the last corrections were made, where that is known', () => {
    const heard = audit([ALL_DAY], [{ recorded: ALL_DAY, silent: [[100, 160]] }]);
    // 60 of 100 seconds, or 60 of 140.
    expect(side([100, 200], heard)).toBe('base');
    expect(side([100, 200], heard, { silentFromMs: ZERO_MS + (60 - 18) * 1000 })).toBe('rover');
  });

  it('is nobody’s where no date is known, and stays as it is where corrections were not what was missing', () => {
    expect(side([100, 200], audit([ALL_DAY], [{ recorded: ALL_DAY }], false))).toBe('unknown');
    expect(side([100, 200], audit([ALL_DAY], [{ recorded: ALL_DAY }]), { side: 'none' })).toBe('none');
  });

  it('counts a silence only while a file was recorded', () => {
    // Between two files nothing was heard: that is no silence of the base.
    const heard = audit(
      [
        [0, 120],
        [180, 400],
      ],
      [{ recorded: [0, 400], silent: [[100, 200]] }],
    );
    expect(side([100, 200], heard)).toBe('unknown');
    expect(side([100, 130], heard)).toBe('base');
  });
});
