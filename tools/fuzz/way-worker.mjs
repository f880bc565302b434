// A process of tools/two-ways.mjs, which goes one way: writes of each case the digests of all that it gave.
import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import { appendFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import process from 'node:process';
import { main } from '../../dist/cli/main.js';
import { COMMANDS } from '../../dist/cli/shell/program.js';
import { kindNames, prepareFolder, runCase } from './fuzz-cases.mjs';

const [out, cases, seed, only] = process.argv.slice(2);
const kinds = only === '' ? kindNames(COMMANDS) : [only];
const each = Math.ceil(Number(cases) / kinds.length);
const folder = mkdtempSync(join(tmpdir(), 'pegbook-way-'));
/** Of bytes without the name of this process's own folder. */
const digest = (bytes) =>
  createHash('sha256')
    .update(Buffer.from(bytes).toString('latin1').replaceAll(folder, ''), 'latin1')
    .digest('hex')
    .slice(0, 16);
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
prepareFolder(folder);
writeFileSync(out, '');
for (const kind of kinds) {
  for (let index = 0; index < each; index += 1) {
    const written = [];
    const own = Number(seed) + index;
    const { exit, argv, stdout, stderr, fault } = await runCase(main, kind, own, folder, COMMANDS, (name, bytes) =>
      written.push([name, digest(bytes)]),
    );
    // The engine's own warnings come when it clears memory.
    const said = stderr
      .replaceAll(folder, '')
      .split('\n')
      .filter((line) => !/^\((?:node:\d|Use `node)/u.test(line))
      .join('\n');
    const outputs = Object.fromEntries([
      ['exit', exit],
      ['fault', fault?.replaceAll(folder, '')],
      ['stdout', digest(stdout)],
      ['stderr', said.slice(0, 1000)],
      ['all of stderr', digest(said)],
      ...written,
    ]);
    appendFileSync(out, `${JSON.stringify({ kind, seed: own, argv, outputs })}\n`);
  }
}
process.exit(0);
