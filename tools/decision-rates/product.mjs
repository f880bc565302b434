// Runs the built product as a user would: a command line in, files and streams out. It runs in this process, because starting
// Node for each of some ten thousand runs would take longer than the runs.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable, Writable } from 'node:stream';
import { pathToFileURL } from 'node:url';

/** A sink that keeps what is written. */
function sink() {
  const chunks = [];
  const stream = new Writable({
    write(chunk, _encoding, done) {
      chunks.push(chunk);
      done();
    },
  });
  return { stream, text: () => Buffer.concat(chunks).toString('utf8') };
}

/** The product of a built checkout, with a folder of its own for files. */
export async function openProduct(root) {
  const { main } = await import(pathToFileURL(join(root, 'dist/program/main.js')).href);
  const folder = mkdtempSync(join(tmpdir(), 'decision-rates-'));
  return {
    folder,
    write: (name, text) => writeFileSync(join(folder, name), text),
    read: (name) => readFileSync(join(folder, name), 'utf8'),
    close: () => rmSync(folder, { recursive: true, force: true }),
    /** Exit code, and what was printed to either stream. */
    async run(words, input = '') {
      const out = sink();
      const err = sink();
      const exit = await main({
        argv: ['node', 'pegbook', ...words],
        stdin: Readable.from([Buffer.from(input)]),
        stdout: out.stream,
        stderr: err.stream,
        env: { SOURCE_DATE_EPOCH: '1772604000', NO_COLOR: '1' },
        cwd: () => folder,
      });
      if (exit > 1) throw new Error(`pegbook ${words.join(' ')} ended with ${exit}:\n${err.text().slice(0, 2000)}`);
      return { exit, stdout: out.text(), stderr: err.text() };
    },
  };
}

/** Rows of a CSV text without quotes, as records; numbers stay text. */
export function rowsOf(text) {
  const [head, ...lines] = text.trimEnd().split('\n');
  const names = head.split(',');
  return lines.map((line) => {
    const cells = line.split(',');
    return Object.fromEntries(names.map((name, i) => [name, cells[i] ?? '']));
  });
}
