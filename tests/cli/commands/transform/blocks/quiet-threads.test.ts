import { Buffer } from 'node:buffer';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import process from 'node:process';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { setTimeout } from 'node:timers/promises';
import { afterAll, describe, expect, it } from 'vitest';
import type { QuietBlocks, QuietRows } from '../../../../../src/cli/commands/transform/blocks/quiet-blocks.js';
import { quietThreads } from '../../../../../src/cli/commands/transform/blocks/quiet-threads.js';
import type { ThreadStart } from '../../../../../src/cli/commands/transform/blocks/quiet-threads.js';
import type { ByteBlock } from '../../../../../src/io/csv/csv-blocks.js';
import { DEFAULT_DIALECT } from '../../../../../src/io/csv/csv-dialect.js';
import { present } from '../../../../../src/records/present.js';

const ROOT = fileURLToPath(new URL('../../../../..', import.meta.url));
const START = {} as unknown as ThreadStart;

/** A script in place of the worker's: it gives a block back as its rows, 20 ms later, and has nothing for one that begins with a dash. */
const ECHO = `parentPort.postMessage('ready');
parentPort.on('message', ({ block, blockBytes, firstLine, rows }) => setTimeout(() => {
  const bytes = new Uint8Array(block, 0, blockBytes);
  const room = rows.byteLength >= blockBytes ? rows : new SharedArrayBuffer(blockBytes);
  new Uint8Array(room).set(bytes);
  parentPort.postMessage(bytes[0] === 45 ? null : { count: firstLine, bytes: blockBytes, rows: room });
}, 20));`;
const script = (code: string): URL =>
  new URL(`data:text/javascript,${encodeURIComponent(`import { parentPort } from 'node:worker_threads';\n${code}`)}`);

const block = (text: string, firstLine = 1, hasQuote = false): ByteBlock => ({
  bytes: Buffer.from(text),
  firstLine,
  hasQuote,
});
const textOf = (written: QuietRows | null): string | null =>
  written === null ? null : Buffer.from(written.bytes).toString();
const never = (): QuietRows | null => null;

/** Carries a block until a thread does it. */
async function byThread(threads: QuietBlocks, what: ByteBlock): Promise<QuietRows> {
  for (let turn = 0; turn < 2000; turn += 1) {
    const written = await threads.carry(what);
    if (written !== null) return written;
    await setTimeout(5);
  }
  throw new Error('no thread did it');
}

describe('quietThreads', () => {
  it('keeps the rows of each block until they are released, whoever carried it', async () => {
    const here = (one: ByteBlock): QuietRows => ({ rows: 99, bytes: Buffer.from(`here ${one.bytes.toString()}`) });
    const threads = quietThreads(1, START, here, script(ECHO));
    try {
      // The thread is still starting.
      expect(textOf(await threads.carry(block('a')))).toBe('here a');
      let first = await threads.carry(block('first', 7));
      while (first?.rows === 99) {
        await setTimeout(5);
        first = await threads.carry(block('first', 7));
      }
      const three = ['second block', 'third', 'no room'].map((text) => threads.carry(block(text, 8)));
      expect((await Promise.all(three)).map(textOf)).toEqual(['second block', 'third', 'here no room']);
      expect([first?.rows, textOf(first)]).toEqual([7, 'first']);
      threads.release(present(first, 'first'));
      const long = await threads.carry(block('x'.repeat(5000), 9));
      expect(textOf(long)).toBe('x'.repeat(5000));
    } finally {
      await threads.close();
    }
  });

  it('has nothing of a block with quotes, nor where the thread has nothing', async () => {
    const threads = quietThreads(1, START, never, script(ECHO));
    try {
      await byThread(threads, block('started'));
      expect(await threads.carry(block('-'))).toBeNull();
      expect(await threads.carry(block('quoted', 1, true))).toBeNull();
    } finally {
      await threads.close();
    }
  });

  it('fails where a thread does', async () => {
    const failing =
      "parentPort.postMessage('ready');\nparentPort.on('message', () => { throw new Error('broken within'); });";
    const threads = quietThreads(1, START, never, script(failing));
    try {
      await expect(byThread(threads, block('x'))).rejects.toThrow(/a worker failed: .*broken within/su);
    } finally {
      await threads.close();
    }
  });
});

const folder = mkdtempSync(join(tmpdir(), 'pegbook-threads-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
const HEADER = ['point_id', 'latitude_deg', 'longitude_deg', 'ellipsoidal_height_m', 'crew'];
const rowOf = (n: number, longitude = (21 + (n % 1000) / 1e3).toFixed(9)): string =>
  `P${String(n)},${(-31 - (n % 777) / 1e3).toFixed(9)},${longitude},${String(100 + n / 8)},a b\n`;

function transformed(words: readonly string[]): { readonly status: number | null; readonly stderr: string } {
  const all = ['transform', 'in.csv', '--from', 'EPSG:4148', '--to', 'EPSG:2049', '--force', ...words];
  const run = spawnSync(process.execPath, [join(ROOT, 'bin', 'pegbook.js'), ...all], { cwd: folder, encoding: 'utf8' });
  return { status: run.status, stderr: run.stderr };
}
const read = (name: string): string => readFileSync(join(folder, name), 'utf8');

describe('the thread of a transformation', () => {
  it('carries a block to the bytes of the whole run', async () => {
    const text = Array.from({ length: 50 }, (_, n) => rowOf(n)).join('');
    writeFileSync(join(folder, 'in.csv'), `${HEADER.join(',')}\n${text}`);
    expect(transformed(['-o', 'out.csv', '--workers', '1']).status).toBe(0);
    const options = { from: 'EPSG:4148', to: 'EPSG:2049' };
    const head = { source: 'in.csv', header: HEADER, headerLine: 1, dialect: DEFAULT_DIALECT };
    const worker = pathToFileURL(join(ROOT, 'dist/program/transform-worker.js'));
    const start = { invocation: { args: ['in.csv'], options }, cwd: folder, head };
    const threads = quietThreads(1, start, never, worker);
    try {
      const written = await byThread(threads, block(text, 2));
      expect(written.rows).toBe(50);
      expect(textOf(written)).toBe(read('out.csv').replace(/^.*\n/u, ''));
      // A point far outside the area of use is told of by the run.
      expect(await threads.carry(block(rowOf(1, '35')))).toBeNull();
      expect(await threads.carry(block('P1,x,21,0,\n'))).toBeNull();
    } finally {
      await threads.close();
    }
  });

  it('changes nothing of what is written and said, wherever rows with errors and warnings stand', () => {
    const lines: string[] = [];
    for (let n = 0; n < 150_000; n += 1) {
      lines.push(rowOf(n, n % 20_011 === 400 ? '35' : undefined));
      if (n % 30_011 === 29_000) lines.push(`P${String(n)}b,x,21,0,c\n`);
      if (n % 50_021 === 50_000) lines.push(`"P, ${String(n)}",-31,21,0,c\n`);
    }
    writeFileSync(join(folder, 'in.csv'), `${HEADER.join(',')}\n${lines.join('')}`);
    const runs = ['1', '3'].map((workers) => {
      const files = ['-o', 'out.csv', '--rejects', 'bad.csv', '--problems', 'said.jsonl', '--on-error', 'skip'];
      const { status, stderr } = transformed([...files, '--workers', workers]);
      return { status, stderr, written: ['out.csv', 'bad.csv', 'said.jsonl'].map(read) };
    });
    expect(runs[0]?.written[0]?.split('\n').length).toBeGreaterThan(150_000);
    expect(runs[0]?.stderr).toContain('outside the area of use');
    expect(runs[1]).toEqual(runs[0]);
  });
});
