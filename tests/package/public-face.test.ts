import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { publint } from 'publint';
import { formatMessage } from 'publint/utils';
import { describe, expect, it } from 'vitest';
import { ROOT, textOf } from '../support/repository-files.js';

const BUILT = existsSync(join(ROOT, 'dist', 'index.js'));

// The rules of publint, a linter of published packages: entries that exist, types that go with them, formats that agree.
describe.skipIf(!BUILT)('the public face (skipped until npm run build has been run)', () => {
  it('is a package as other tools expect one', async () => {
    const { messages } = await publint({ pkgDir: ROOT, strict: true, pack: 'npm' });
    const manifest: unknown = JSON.parse(textOf('package.json'));
    expect(messages.map((message) => formatMessage(message, manifest as Record<string, unknown>))).toEqual([]);
  }, 60_000);
});
