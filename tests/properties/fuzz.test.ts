import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.js';
import { COMMANDS } from '../../src/cli/shell/program.js';
import { runInProcess } from '../support/run-in-process.js';
import { kindNames, prepareFolder, runCase, soundArgv } from '../../tools/fuzz/fuzz-cases.mjs';

// A short run of npm run fuzz, always of the same cases. The same seed makes the same case there:
// npm run fuzz -- --kind KIND --seed SEED --cases 1
const CASES = 40;
const FIRST_SEED = 9000;
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-fuzz-'));
  prepareFolder(folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('damaged input of every kind', () => {
  it.each(kindNames(COMMANDS).filter((kind) => kind !== 'options'))(
    '%s: is sound before it is damaged',
    async (kind) => {
      const { exit, stderr } = await runInProcess(soundArgv(kind), { cwd: folder });
      expect([0, 1], stderr).toContain(exit);
    },
  );

  it.each(kindNames(COMMANDS))('%s: ends with a code of the table and leaves nothing behind', async (kind) => {
    for (let seed = FIRST_SEED; seed < FIRST_SEED + CASES; seed += 1) {
      const { fault, argv } = await runCase(main, kind, seed, folder, COMMANDS);
      expect(fault, `${kind} seed ${String(seed)}: pegbook ${argv.join(' ')}`).toBeNull();
    }
  });
});
