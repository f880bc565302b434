import { Readable, Writable } from 'node:stream';
import type { Command } from 'commander';
import { contextOf } from '../../src/cli/shell/context.js';
import { createProgram } from '../../src/cli/shell/program.js';

/** The real program tree, with streams that go nowhere and commands that do nothing. */
export function programTree(): Command {
  const nowhere = (): Writable => new Writable({ write: (_chunk, _encoding, done) => done() });
  const context = contextOf(
    {
      argv: ['node', 'pegbook'],
      stdin: Readable.from([]),
      stdout: nowhere(),
      stderr: nowhere(),
      env: {},
      cwd: () => '.',
    },
    new AbortController().signal,
  );
  return createProgram(context, () => Promise.resolve());
}
