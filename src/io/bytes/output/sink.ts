import { Buffer } from 'node:buffer';
import { createWriteStream } from 'node:fs';
import { chmod, lstat, realpath, stat } from 'node:fs/promises';
import type { Stats } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import type { Writable } from 'node:stream';
import { failure, success } from '../../../records/outcome.js';
import type { Failure, Outcome } from '../../../records/outcome.js';
import { InternalError } from '../../../records/internal-error.js';
import { errorProblem } from '../../../records/problem.js';
import { fileErrorCode, fileErrorWords, writeFailed } from '../file-error.js';
import { inputRegistry } from '../input-registry.js';
import { putInPlace } from './put-in-place.js';
import type { MayReplace } from './put-in-place.js';
import { createSpool } from './spool.js';
import { createTempFile, tempFileChunks } from './temp-file.js';
import type { TempFile } from './temp-file.js';

/** Where outputs go; injected so that nothing here touches the process. */
export interface SinkOptions {
  readonly cwd: string;
  readonly stdout: Writable;
  /** Folder for what does not fit in memory on its way to standard output. */
  readonly tempDir: string;
  /** Overwrite an existing file. */
  readonly force: boolean;
  /** Says of an existing file, by its real path, that it may be overwritten without force. Absent: none may. */
  readonly mayReplace?: (path: string) => Promise<boolean>;
  /** That holds too of a file that another run puts there meanwhile. Absent: no such file is overwritten. */
  readonly mayReplaceNew?: boolean;
  /** Absolute paths of every file read in this run. */
  readonly inputs: readonly string[];
  /** Keys of the outputs that the groups of a run have opened together; absent: each group for itself. */
  readonly taken?: Set<string>;
  /** Bytes held in memory for standard output before a temporary file is used. */
  readonly spoolBytes?: number;
}

/**
 * An output nobody sees until it is committed. Order of calls: `write` any number of times, `finish`, `commit`; or
 * `abort` at any time. A failed write is remembered and reported by `finish`.
 */
export interface Sink {
  /** As typed by the user; `stdout` for `-`. */
  readonly name: string;
  /** What tells outputs apart: the real path, or `-`. */
  readonly key: string;
  readonly write: (content: string | Uint8Array) => Promise<void>;
  /** Puts everything written so far through a change, once, in constant memory; the change may go through it several times. Before `finish`. */
  readonly rewrite: (change: (chunks: AsyncIterable<Buffer>) => AsyncIterable<Uint8Array>) => Promise<void>;
  /** Everything written is on the disk; nothing is visible yet. Problem: file-write-failed. */
  readonly finish: () => Promise<Outcome<null>>;
  /** Makes it visible. `stopped`: the reader of a pipe had enough, which is no error. */
  readonly commit: () => Promise<Outcome<'written' | 'stopped'>>;
  /** Leaves nothing behind; never fails. */
  readonly abort: () => Promise<void>;
}

const BUFFERED_CHARACTERS = 1 << 17;

/**
 * Opens an output: a file, or standard output for `-`.
 * Problems: file-output-is-input (same real path or same file by another name), file-output-exists without force
 * where `mayReplace` does not allow it, file-output-unwritable. The place is proved writable before any work is done.
 * The inverse is `openSource`.
 */
export async function openSink(pathOrDash: string, options: SinkOptions): Promise<Outcome<Sink>> {
  if (pathOrDash === '-') {
    const destination = (): Writable => options.stdout;
    return success(
      createSpool({
        name: 'stdout',
        key: '-',
        tempDir: options.tempDir,
        spoolBytes: options.spoolBytes,
        destination,
        isClosedAfter: false,
      }),
    );
  }
  const typed = resolve(options.cwd, pathOrDash);
  const target = await realpath(typed).catch(() => typed);
  let existing: Stats | null = null;
  let isLink = false;
  try {
    existing = await stat(target);
    isLink = (await lstat(typed)).isSymbolicLink();
  } catch (error) {
    if (fileErrorCode(error) !== 'ENOENT') return unwritable(pathOrDash, error);
  }
  if (existing !== null) {
    if (existing.isDirectory())
      return problem('file-output-unwritable', pathOrDash, 'is a folder', 'name a file in it');
    if (inputRegistry()?.has(existing) === true || (await isInput(target, existing, options.inputs)))
      return alsoInput(pathOrDash);
    if (!existing.isFile()) {
      const destination = (): Writable => createWriteStream(target);
      return success(
        createSpool({
          name: pathOrDash,
          key: target,
          tempDir: options.tempDir,
          spoolBytes: options.spoolBytes,
          destination,
          isClosedAfter: true,
        }),
      );
    }
    if (!options.force && (isLink || (await options.mayReplace?.(target)) !== true)) {
      return problem('file-output-exists', pathOrDash, 'exists already', 'choose another name, or give --force');
    }
    // Who put the link there chose what is overwritten, and need not be who gave --force.
    if (isLink)
      return problem(
        'file-output-unwritable',
        pathOrDash,
        'is a link to another file, which --force would overwrite',
        'name the file it leads to, or remove the link',
      );
  }
  // Asked again when it is renamed: another program may have put something else there.
  const may: MayReplace = async () =>
    options.force ||
    ((existing !== null || options.mayReplaceNew === true) && (await options.mayReplace?.(target)) === true);
  return openFile(pathOrDash, target, existing, may);
}

async function openFile(name: string, target: string, existing: Stats | null, may: MayReplace): Promise<Outcome<Sink>> {
  let temp: TempFile;
  async function newTemp(): Promise<TempFile> {
    // Never readable by more people than the file that it replaces, from the first byte on.
    const made = await createTempFile(
      dirname(target),
      basename(target),
      existing === null ? 0o666 : existing.mode & 0o700,
    );
    if (existing !== null) await chmod(made.path, existing.mode & 0o777);
    return made;
  }
  try {
    temp = await newTemp();
  } catch (error) {
    return unwritable(name, error);
  }
  const folder = await realpath(dirname(target)).catch(() => dirname(target));
  let waiting = '';
  let failed: unknown = null;
  let isOver = false;

  async function put(bytes: Uint8Array): Promise<void> {
    if (failed !== null || isOver) return;
    try {
      await temp.write(bytes);
    } catch (error) {
      failed = error;
    }
  }

  async function flush(): Promise<void> {
    if (waiting === '') return;
    const text = waiting;
    waiting = '';
    await put(Buffer.from(text, 'utf8'));
  }

  async function abort(): Promise<void> {
    if (isOver) return;
    isOver = true;
    await temp.remove();
  }

  async function rewrite(change: Parameters<Sink['rewrite']>[0]): Promise<void> {
    await flush();
    if (failed !== null || isOver) return;
    let next: TempFile | null = null;
    try {
      next = await newTemp();
      for await (const piece of change({ [Symbol.asyncIterator]: () => tempFileChunks(temp) })) await next.write(piece);
    } catch (error) {
      await next?.remove();
      if (error instanceof InternalError) throw error;
      failed = error;
      return;
    }
    await temp.remove();
    temp = next;
  }

  return success({
    name,
    key: join(folder, basename(target)),
    abort,
    rewrite,
    async write(content) {
      if (typeof content === 'string') {
        waiting += content;
        if (waiting.length >= BUFFERED_CHARACTERS) await flush();
        return;
      }
      await flush();
      await put(content);
    },
    async finish() {
      await flush();
      const refused = await refusedNow(name, target, existing === null ? null : may);
      if (refused !== null) {
        await abort();
        return refused;
      }
      try {
        if (failed !== null) throw failed;
        await temp.sync();
        await temp.close();
        return success(null);
      } catch (error) {
        await abort();
        return writeFailed(name, error);
      }
    },
    async commit() {
      try {
        await putInPlace(temp.path, target, may);
        isOver = true;
        return success('written');
      } catch (error) {
        await abort();
        if (fileErrorCode(error) === 'EEXIST') {
          return problem(
            'file-output-exists',
            name,
            'was made by another program meanwhile',
            'choose another name, or give --force',
          );
        }
        return writeFailed(name, error);
      }
    },
  });
}

/**
 * What speaks against the output, once it is written: it was opened for reading after the output was, or what stood there from the
 * beginning may not be replaced by what was written. Null: nothing. `may` is null where nothing stood there.
 */
async function refusedNow(name: string, target: string, may: MayReplace | null): Promise<Failure | null> {
  const now = await stat(target).catch(() => null);
  if (now === null) return null;
  if (inputRegistry()?.has(now) === true) return alsoInput(name);
  if (may === null || (await may())) return null;
  const message = 'exists already, and holds something else than was written last or would be now';
  return problem('file-output-exists', name, message, 'keep it under another name, or give --force');
}

function alsoInput(source: string): Failure {
  return problem('file-output-is-input', source, 'is also an input of this run', 'choose another name');
}

async function isInput(target: string, existing: Stats, inputs: readonly string[]): Promise<boolean> {
  for (const input of inputs) {
    try {
      if ((await realpath(input)) === target) return true;
      const other = await stat(input);
      if (existing.ino !== 0 && other.dev === existing.dev && other.ino === existing.ino) return true;
    } catch {
      // An input that cannot be looked at is reported where it is opened.
    }
  }
  return false;
}

function problem(
  code: 'file-output-exists' | 'file-output-is-input' | 'file-output-unwritable',
  source: string,
  message: string,
  hint: string,
): Failure {
  return failure(errorProblem(code, { message, where: { source }, hint }));
}

function unwritable(source: string, error: unknown): Failure {
  return problem(
    'file-output-unwritable',
    source,
    `cannot be written: ${fileErrorWords(error)}`,
    'check the folder and its permissions',
  );
}
