import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { HOSTILE } from '../../tools/fuzz/structured-grids.mjs';
import { BUILT, dayFolder, ended, startProgram } from './support.js';

/** Where the system tells how much memory a process has had at most. */
const TELLS_PEAK = process.platform === 'linux';
/** A run of a few rows peaks at some 110 MiB, and the decoder of TIFF adds to that. */
const PEAK_MIB = 260;
const LOOK_MS = 20;

function peakMib(pid: number): number {
  try {
    const found = /VmHWM:\s+(\d+) kB/u.exec(readFileSync(`/proc/${String(pid)}/status`, 'utf8'))?.[1];
    return found === undefined ? 0 : Number(found) / 1024;
  } catch {
    return 0;
  }
}

describe.skipIf(!BUILT || !TELLS_PEAK)(
  'small grids that ask for much (skipped until npm run build has been run, and where no system tells of memory)',
  () => {
    let folder = '';
    beforeAll(() => {
      folder = dayFolder(3);
    });
    afterAll(() => {
      rmSync(folder, { recursive: true, force: true });
    });

    async function reduced(
      file: string,
      more: readonly string[] = [],
    ): Promise<{ exit: number | null; stderr: string; peak: number }> {
      const child = startProgram(
        ['reduce-points', 'fixes.csv', '-s', 'session.toml', '--geoid', file, ...more],
        folder,
      );
      let peak = 0;
      const watch = setInterval(() => (peak = Math.max(peak, peakMib(child.pid ?? 0))), LOOK_MS);
      child.stdin.end();
      const { exit, stderr } = await ended(child);
      clearInterval(watch);
      return { exit, stderr, peak };
    }

    it.each(Object.keys(HOSTILE))('%s: refused, in little memory', async (name) => {
      writeFileSync(join(folder, 'hostile.tif'), HOSTILE[name]?.() ?? '');
      const { exit, stderr, peak } = await reduced('hostile.tif');
      expect(exit, stderr).toBe(4);
      expect(stderr).toMatch(/hostile\.tif: .*\[grid-un(?:readable|supported)\]/u);
      expect(peak).toBeGreaterThan(20);
      expect(peak).toBeLessThan(PEAK_MIB);
    });

    it('names the option that allows more nodes', async () => {
      writeFileSync(join(folder, 'many.tif'), HOSTILE['zeros of 400 million nodes']?.() ?? '');
      const { stderr } = await reduced('many.tif');
      expect(stderr).toContain('--grid-nodes 400000000');
      const fewer = await reduced('many.tif', ['--grid-nodes', '30']);
      expect(fewer.stderr).toContain('more than 30');
    });

    it.skipIf(process.platform === 'win32')('ends soon after a signal while a large grid is unpacked', async () => {
      const place = mkdtempSync(join(tmpdir(), 'pegbook-grids-'));
      try {
        writeFileSync(join(place, 'many.tif'), HOSTILE['zeros of 400 million nodes']?.() ?? '');
        const child = startProgram(
          [
            'reduce-points',
            'fixes.csv',
            '-s',
            'session.toml',
            '--geoid',
            join(place, 'many.tif'),
            '--grid-nodes',
            '400000000',
          ],
          folder,
        );
        child.stdin.end();
        let sent = 0;
        setTimeout(() => {
          sent = Date.now();
          child.kill('SIGINT');
        }, 1500);
        const { exit, stderr } = await ended(child);
        expect(exit, stderr).toBe(130);
        // Unpacking to the end would take minutes; a machine that is busy with other things may well take seconds.
        expect(Date.now() - sent).toBeLessThan(20_000);
      } finally {
        rmSync(place, { recursive: true, force: true });
      }
    });
  },
);
