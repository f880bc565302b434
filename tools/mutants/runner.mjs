// A process of its own, so that a change that never ends can be ended with it. It keeps the transformed tests and runs them
// again; messages come and go by the channel of the process.
import { createVitest } from 'vitest/node';

import { instrumented, marked } from './sites.mjs';

const [root, journal, now, noticed] = process.argv.slice(2);
let vitest;
let size = 0;

async function open(sites, isMarked) {
  size = sites.length;
  const files = grouped(sites);
  const numbers = new Map(sites.map((site, index) => [site, index]));
  const make = isMarked ? marked : instrumented;
  vitest = await createVitest(
    'test',
    {
      root,
      config: false,
      watch: false,
      maxWorkers: 1,
      include: ['tests/**/*.test.ts'],
      runner: `${root}/tools/mutants/many.mjs`,
      setupFiles: [`${root}/tools/mutants/setup.mjs`],
      testTimeout: 60_000,
      hookTimeout: 120_000,
      reporters: [{}],
      onConsoleLog: () => false,
    },
    {
      plugins: [
        {
          name: 'both-forms',
          enforce: 'pre',
          transform: (code, id) => {
            const own = files.get(id.split('?')[0]);
            return own === undefined ? undefined : { code: make(code, own, numbers), map: null };
          },
        },
      ],
    },
  );
}

function grouped(sites) {
  const files = new Map();
  for (const site of sites) {
    const path = `${root}/${site.file}`;
    files.set(path, [...(files.get(path) ?? []), site]);
  }
  return files;
}

/** The names of the tests that failed: with one change from the start, or, where `active` is -1, without any. */
async function run({ active, alive, skipped, only, isThin, part, test }) {
  vitest.provide('mutants', { active, alive, skipped, only, isThin, part, size, journal, now, noticed });
  vitest.state.filesMap.clear();
  vitest.state.errorsSet?.clear();
  const bail = active < 0 ? 0 : 1;
  vitest.config.bail = bail;
  for (const project of vitest.projects) project.config.bail = bail;
  await vitest.start([`${root}/${test}`]);
  const failed = [];
  const look = (task) => {
    if (task.result?.state === 'fail' && task.type !== 'suite') failed.push(task.name);
    for (const child of task.tasks ?? []) look(child);
  };
  for (const file of vitest.state.getFiles()) {
    look(file);
    if (file.result?.state === 'fail' && failed.length === 0) failed.push(file.name);
  }
  if (active >= 0 && failed.length === 0 && vitest.state.errorsSet?.size > 0) failed.push('an error outside of a test');
  process.exitCode = 0;
  return failed;
}

process.on('message', async (message) => {
  try {
    if (message.kind === 'open') {
      await open(message.sites, message.isMarked);
      process.send({ ok: true });
    } else process.send({ ok: true, failed: await run(message) });
  } catch (error) {
    process.send({ ok: false, message: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
});
process.on('disconnect', () => process.exit(0));
