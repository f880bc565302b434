import { readdirSync, readlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';

const cwd = join(ROOT, 'examples', 'quillback-pan');
const FDS = '/proc/self/fd';
const isLinux = process.platform === 'linux';

/** Files below the examples that this process has open. The system says so, whatever the engine thinks. */
function openFiles(): readonly string[] {
  return readdirSync(FDS).flatMap((number) => {
    try {
      const path = readlinkSync(join(FDS, number));
      return path.startsWith(cwd) ? [path.slice(cwd.length + 1)] : [];
    } catch {
      return [];
    }
  });
}

const TRANSFORM = ['transform', 'control.csv', '--from', 'EPSG:2049', '--to', 'EPSG:4148'];

describe.runIf(isLinux)('a run that is stopped before it has read its files', () => {
  it.each([
    ['by a column that is not there', [...TRANSFORM, '--select', 'nosuch'], 2],
    ['by an output that stands already', [...TRANSFORM, '-o', 'control.csv'], 3],
    ['by a form that is none', [...TRANSFORM, '--explain', 'nobody', '--format', 'geojson'], 2],
    ['by two systems', ['transform', 'control.csv', '--from', 'EPSG:2053', '--to', 'EPSG:4222'], 2],
    ['by nothing', TRANSFORM, 0],
    ['in a reduction', ['reduce-points', 'fixes.csv', '--session', 'session.toml', '--select', 'nosuch'], 2],
    [
      'in a check',
      ['check-tolerances', 'fixes.csv', '--control', 'control.csv', '--session', 'session.toml', '--select', 'nosuch'],
      2,
    ],
  ])('closes them: %s', async (_what, words, least) => {
    const { exit } = await runInProcess(words, { cwd });
    expect(exit).toBeGreaterThanOrEqual(least > 0 ? 2 : 0);
    expect(openFiles()).toEqual([]);
  });
});
