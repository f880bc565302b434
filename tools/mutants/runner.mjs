// A process of its own, so that a change that never ends can be ended with it. It loads the tests once and runs them
// again for each change; messages come and go by the channel of the process.
import { readFileSync, rmSync } from 'node:fs';
import { createVitest } from 'vitest/node';

import { instrumented } from './sites.mjs';

const [root, reachFile] = process.argv.slice(2);
let vitest;

async function open(sites) {
  const files = grouped(sites);
  vitest = await createVitest(
    'test',
    {
      root,
      config: false,
      watch: false,
      bail: 1,
      maxWorkers: 1,
      include: ['tests/**/*.test.ts'],
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
            return own === undefined ? undefined : { code: instrumented(code, own, sites), map: null };
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

async function run(active, tests, names) {
  vitest.provide('mutants', { active, reachFile, root });
  vitest.state.filesMap.clear();
  vitest.state.errorsSet?.clear();
  const pattern = names === null ? undefined : new RegExp(`^(${names.map(escaped).join('|')})$`);
  for (const project of vitest.projects) project.config.testNamePattern = pattern;
  vitest.config.bail = active < 0 ? 0 : 1;
  for (const project of vitest.projects) project.config.bail = vitest.config.bail;
  await vitest.start(tests.map((test) => `${root}/${test}`));
  const failed = [];
  const look = (task) => {
    if (task.result?.state === 'fail' && task.type !== 'suite') failed.push(task.name);
    for (const child of task.tasks ?? []) look(child);
  };
  for (const file of vitest.state.getFiles()) {
    look(file);
    if (file.result?.state === 'fail' && failed.length === 0) failed.push(file.name);
  }
  if (failed.length === 0 && vitest.state.errorsSet?.size > 0) failed.push('an error outside of a test');
  process.exitCode = 0;
  return failed;
}

const escaped = (name) => name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

process.on('message', async ({ kind, sites, active, tests, names }) => {
  try {
    if (kind === 'open') {
      await open(sites);
      process.send({ ok: true });
    } else if (kind === 'reach') {
      rmSync(reachFile, { force: true });
      const failed = await run(-1, tests, null);
      const reach = readFileSync(reachFile, 'utf8').trim().split('\n').map(JSON.parse);
      process.send({ ok: true, failed, reach });
    } else {
      process.send({ ok: true, failed: await run(active, tests, names) });
    }
  } catch (error) {
    process.send({ ok: false, message: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
});
process.on('disconnect', () => process.exit(0));
