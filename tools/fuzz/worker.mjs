// A process of the fuzz run: takes ranges of seeds, tells of each case before and after it.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import process from 'node:process';
import { main } from '../../dist/cli/main.js';
import { COMMANDS } from '../../dist/cli/shell/program.js';
import { prepareFolder, runCase } from './fuzz-cases.mjs';

const folder = mkdtempSync(join(process.env['FUZZ_FOLDER'] ?? tmpdir(), 'pegbook-fuzz-'));
prepareFolder(folder);
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
process.on('disconnect', () => process.exit(0));
process.on('message', async ({ kind, first, count }) => {
  for (let seed = first; seed < first + count; seed += 1) {
    process.send({ type: 'start', kind, seed });
    const begun = process.cpuUsage();
    const peakBefore = process.resourceUsage().maxRSS;
    const result = await runCase(main, kind, seed, folder, COMMANDS);
    const used = process.cpuUsage(begun);
    const seconds = (used.user + used.system) / 1e6;
    // The peak of the process only ever rises: by how much it rose is what this case took beyond all before it.
    const roseKib = process.resourceUsage().maxRSS - peakBefore;
    process.send({
      type: 'case',
      kind,
      seed,
      exit: result.exit,
      seconds,
      roseKib,
      fault: result.fault,
      argv: result.argv,
    });
  }
  globalThis.gc?.();
  process.send({ type: 'range', heapBytes: process.memoryUsage().heapUsed });
});
process.send({ type: 'ready' });
