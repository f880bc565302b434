import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { seededRandom } from '../support/seeded-random.js';
import { BUILT, dayFolder, ended, newFiles, REDUCE, runProgram, startProgram } from './support.js';

// Moments in a run; PEGBOOK_FAULT_RUNS asks for more of them.
const RUNS = Number(process.env['PEGBOOK_FAULT_RUNS'] ?? '10');

describe.skipIf(!BUILT || process.platform === 'win32')(
  'signals (skipped until npm run build has been run, and where there are none)',
  () => {
    let folder = '';
    let whole = Buffer.alloc(0);
    let durationMs = 0;
    beforeAll(async () => {
      folder = dayFolder(20_000);
      const started = Date.now();
      await runProgram([...REDUCE, '-o', 'out.csv'], folder);
      durationMs = Date.now() - started;
      whole = readFileSync(join(folder, 'out.csv'));
      rmSync(join(folder, 'out.csv'));
    });
    afterAll(() => {
      rmSync(folder, { recursive: true, force: true });
    });

    /** Sends a signal so late in a run. */
    async function runWithSignal(signal: NodeJS.Signals, part: number): Promise<Awaited<ReturnType<typeof ended>>> {
      const child = startProgram([...REDUCE, '-o', 'out.csv'], folder);
      child.stdin.end();
      const timer = setTimeout(() => child.kill(signal), part * durationMs);
      const end = await ended(child);
      clearTimeout(timer);
      return end;
    }

    it.each(['SIGINT', 'SIGTERM'] as const)(
      '%s at any moment leaves the whole output or none, nothing else, and exit 130 where it stopped the run',
      async (signal) => {
        const random = seededRandom(signal === 'SIGINT' ? 7 : 11);
        for (let i = 0; i < RUNS; i += 1) {
          const part = random.between(0, 1.2);
          const { exit, signal: endedBy, stderr } = await runWithSignal(signal, part);
          const files = newFiles(folder);
          const at = `${signal} at ${part.toFixed(3)} of a run: exit ${String(exit)} ${String(endedBy)} ${stderr.slice(0, 300)}`;
          if (exit === 1) {
            expect(files, at).toEqual(['out.csv']);
            expect(readFileSync(join(folder, 'out.csv')).equals(whole), at).toBe(true);
          } else {
            // Before the program has loaded, and once its last line has run and Node takes itself down,
            // the system's own action ends the process: then nothing is there yet, or the whole output.
            if (exit !== 130) expect(endedBy, at).toBe(signal);
            else expect(stderr, at).toContain('[interrupted]');
            if (exit !== 130 && files.length > 0) {
              expect(files, at).toEqual(['out.csv']);
              expect(readFileSync(join(folder, 'out.csv')).equals(whole), at).toBe(true);
            } else expect(files, at).toEqual([]);
          }
          rmSync(join(folder, 'out.csv'), { force: true });
        }
      },
    );

    it('being killed at any moment leaves the whole output or none under its name', async () => {
      const random = seededRandom(13);
      for (let i = 0; i < RUNS; i += 1) {
        await runWithSignal('SIGKILL', random.between(0.2, 1.1));
        for (const name of newFiles(folder)) {
          if (name === 'out.csv') expect(readFileSync(join(folder, name)).equals(whole)).toBe(true);
          else expect(name).toMatch(/^\.out\.csv\.[0-9a-f]{12}\.tmp$/);
          rmSync(join(folder, name));
        }
      }
    });

    it('SIGINT ends a run that waits for standard input', async () => {
      const child = startProgram(['reduce-points', '-', '-s', 'session.toml', '-o', 'out.csv', '-v'], folder);
      const end = ended(child);
      // The settings are told once the session has been read; then the input is waited for.
      await new Promise((resolve) => child.stderr.once('data', resolve));
      child.stdin.on('error', () => undefined).write('point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\n');
      child.kill('SIGINT');
      expect(await end).toMatchObject({ exit: 130, signal: null });
      expect(newFiles(folder)).toEqual([]);
    });
  },
);
