import { lstat, mkdir, open, readdir, realpath, rename, rm } from 'node:fs/promises';
import { randomBytes } from 'node:crypto';
import { basename, dirname, join, resolve } from 'node:path';
import { InternalError } from '../../records/internal-error.js';
import { failure, success } from '../../records/outcome.js';
import type { Failure, Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { fileErrorCode, fileErrorWords, writeFailed } from '../bytes/file-error.js';
import type { Sink } from '../bytes/output/sink.js';
import type { BagFile } from './bag.js';

/** What every bag holds: a folder with it may be replaced. */
const MARK = 'bagit.txt';

/**
 * A folder as an output: its files are written beside it and appear together, under its name.
 *
 * Given: the folder as typed; where that starts from; its files; whether a bag that is there may be replaced. Problems:
 * file-output-exists for a folder that is there without force; file-output-unwritable, also for one that holds no bag.
 */
export async function folderSink(
  name: string,
  cwd: string,
  files: readonly BagFile[],
  force: boolean,
): Promise<Outcome<Sink>> {
  const typed = resolve(cwd, name);
  const parent = await realpath(dirname(typed)).catch(() => dirname(typed));
  const target = join(parent, basename(typed));
  const old = await stateOf(target, name, force);
  if (!old.ok) return old;
  const stem = join(parent, `.${basename(typed).slice(0, 60)}.${randomBytes(6).toString('hex')}`);
  const made = `${stem}.tmp`;
  try {
    await mkdir(made);
  } catch (error) {
    return unwritable(
      name,
      `cannot be written: ${fileErrorWords(error)}`,
      'check the folder above it and its permissions',
    );
  }
  const abort = async (): Promise<void> => {
    await rm(made, { recursive: true, force: true }).catch(() => undefined);
  };
  return success({
    name,
    key: target,
    abort,
    write: () => Promise.reject(new InternalError('a folder takes no bytes')),
    rewrite: () => Promise.reject(new InternalError('a folder takes no bytes')),
    async finish() {
      try {
        await writeFiles(made, files);
        return success(null);
      } catch (error) {
        await abort();
        return writeFailed(name, error);
      }
    },
    async commit() {
      const aside = `${stem}.old`;
      try {
        if (old.value) await rename(target, aside);
        await rename(made, target);
      } catch (error) {
        await rename(aside, target).catch(() => undefined);
        await abort();
        return writeFailed(name, error);
      }
      await rm(aside, { recursive: true, force: true }).catch(() => undefined);
      return success('written');
    },
  });
}

/** Every file, on the disk. Throws what the operating system says. */
async function writeFiles(folder: string, files: readonly BagFile[]): Promise<void> {
  for (const { path, bytes } of files) {
    const place = join(folder, path);
    await mkdir(dirname(place), { recursive: true });
    const handle = await open(place, 'wx');
    try {
      await handle.writeFile(bytes);
      await handle.sync();
    } finally {
      await handle.close();
    }
  }
}

/** Whether a bag is there, which is to be replaced. */
async function stateOf(target: string, name: string, force: boolean): Promise<Outcome<boolean>> {
  try {
    if (!(await lstat(target)).isDirectory())
      return unwritable(name, 'is there and is no folder', 'name a folder, or a file that ends in .zip');
    const held = await readdir(target);
    if (held.length > 0 && !held.includes(MARK))
      return unwritable(name, 'is a folder of other files', 'name one that is not there yet');
    if (!force)
      return failure(
        errorProblem('file-output-exists', {
          message: 'exists already',
          where: { source: name },
          hint: 'choose another name, or give --force',
        }),
      );
    return success(true);
  } catch (error) {
    return fileErrorCode(error) === 'ENOENT'
      ? success(false)
      : unwritable(name, `cannot be written: ${fileErrorWords(error)}`, 'check the folder and its permissions');
  }
}

function unwritable(source: string, message: string, hint: string): Failure {
  return failure(errorProblem('file-output-unwritable', { message, where: { source }, hint }));
}
