import { createHash } from 'node:crypto';
import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { ROOT } from '../../support/repository-files.js';
import { openTerminal } from '../../support/run-command-line.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-sinex-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('a SINEX file that a base is known by', () => {
  it('is an input of the record, with its digest', async () => {
    cpSync(join(ROOT, 'tests/cases/reduce-points/a-base-known-by-a-sinex-file'), folder, { recursive: true });
    await openTerminal(folder).run('pegbook reduce-points fixes.csv --session session.toml --record run.json');
    const record = JSON.parse(readFileSync(join(folder, 'run.json'), 'utf8')) as {
      readonly inputs: readonly { readonly name: string; readonly kind: string; readonly sha256: string }[];
    };
    const files = record.inputs.filter(({ kind }) => kind === 'sinex');
    const sha256 = createHash('sha256')
      .update(readFileSync(join(folder, 'solution.snx')))
      .digest('hex');
    expect(files).toEqual([expect.objectContaining({ name: 'solution.snx', sha256 })]);
  });
});
