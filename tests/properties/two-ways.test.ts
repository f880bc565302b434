import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../support/repository-files.js';

const BUILT = existsSync(join(ROOT, 'dist', 'cli', 'main.js'));

describe.skipIf(!BUILT)('the general and the fast way (skipped until npm run build has been run)', () => {
  // More of them run in .ci/run. Of fixes more than of the others: most of what is fast is theirs.
  it.each([
    ['every kind', '100', []],
    ['fixes', '60', ['--kind', 'fixes-csv']],
    ['points that are joined', '40', ['--kind', 'stands-csv']],
    ['GeoJSON', '20', ['--kind', 'fixes-geojson']],
  ])('give the same bytes: %s', (_, cases, more) => {
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      [join(ROOT, 'tools', 'two-ways.mjs'), '--cases', cases, '--seed', '1', ...more],
      { encoding: 'utf8' },
    );
    expect(status, stdout + stderr).toBe(0);
    expect(stdout).toMatch(/two ways: [1-9]\d+ cases, 0 differ/u);
  });
});
