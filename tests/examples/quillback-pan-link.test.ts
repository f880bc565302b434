import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { fixesText, LINK_SEED, sessionText, STORY, streamBytes } from '../../examples/quillback-pan-link/generate.mjs';
import { ROOT, textOf } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';

const FOLDER = 'examples/quillback-pan-link';
const utc = (second: number): string =>
  new Date(Date.UTC(2026, 2, 4) + second * 1000).toISOString().replace('.000Z', 'Z');

interface Document {
  readonly summary: { readonly verdict: string; readonly reason_counts: Readonly<Record<string, number>> };
  readonly stations: readonly {
    readonly changes: readonly { readonly at: string }[];
    readonly epochs: { readonly gaps: readonly { readonly from: string; readonly to: string }[] };
  }[];
  readonly link: {
    readonly epochs: number;
    readonly outages: readonly { readonly silent_from: string; readonly to: string; readonly side: string }[];
  };
  readonly broadcasts: readonly { readonly verdict: string; readonly arp_difference_east_m: number }[];
}

describe('the recorded stream of the invented day', () => {
  it('has the files that its generator writes for the seed', () => {
    expect(Buffer.from(streamBytes(LINK_SEED)).equals(readFileSync(join(ROOT, FOLDER, 'base.rtcm3')))).toBe(true);
    expect(textOf(`${FOLDER}/fixes.csv`) === fixesText(LINK_SEED)).toBe(true);
    expect(textOf(`${FOLDER}/session.toml`)).toBe(sessionText());
  });

  it('shows the wrong broadcast, the height that was changed and the silence of the base, to the epoch', async () => {
    const { stdout, exit } = await runInProcess(
      ['inspect-corrections', 'base.rtcm3', '--session', 'session.toml', '--format', 'json', '-q'],
      { cwd: join(ROOT, FOLDER) },
    );
    const found = JSON.parse(stdout.toString('utf8')) as Document;
    expect(exit).toBe(1);
    expect(found.summary.verdict).toBe('no');
    expect(Object.keys(found.summary.reason_counts).sort()).toEqual([
      'broadcast-antenna-height',
      'broadcast-differs',
      'stream-antenna-height-changed',
      'stream-damaged',
      'stream-epochs-incomplete',
      'stream-gap',
    ]);
    const [station] = found.stations;
    expect(station?.changes.map(({ at }) => at)).toEqual([utc(STORY.heightChange)]);
    expect(station?.epochs.gaps.map(({ from, to }) => [from, to])).toEqual([
      [utc(STORY.baseOutage[0] - STORY.stepS), utc(STORY.baseOutage[1])],
    ]);
    // 0.0000036 degrees of longitude at 31.5 degrees of latitude: 0.342 m. Source: COMPUTED, 6,378,137 cos φ / √(1 − e² sin² φ).
    expect(found.broadcasts.map(({ arp_difference_east_m: east }) => east.toFixed(3))).toEqual(['-0.342', '-0.342']);
  });

  it('shows both outages of the link, each with the side that it was planted on', async () => {
    const { stdout } = await runInProcess(
      ['inspect-corrections', 'base.rtcm3', '--fixes', 'fixes.csv', '--format', 'json', '-q'],
      { cwd: join(ROOT, FOLDER) },
    );
    const { link } = JSON.parse(stdout.toString('utf8')) as Document;
    // Corrections in use were made at the last epoch before; fixes come each three seconds, so an end is seen up to that late.
    expect(link.outages.map(({ silent_from: from, side }) => [from, side])).toEqual([
      [utc(STORY.baseOutage[0] - STORY.stepS), 'base'],
      [utc(STORY.linkOutage[0] - STORY.stepS), 'rover'],
    ]);
    for (const [index, [, end]] of [STORY.baseOutage, STORY.linkOutage].entries()) {
      const late = (Date.parse(link.outages[index]?.to ?? '') - Date.UTC(2026, 2, 4)) / 1000 - end;
      expect(late).toBeGreaterThanOrEqual(0);
      expect(late).toBeLessThanOrEqual(STORY.latencyS + STORY.stepS + 3);
    }
  });
});
