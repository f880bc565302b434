import { link, rename, stat, unlink } from 'node:fs/promises';
import { fileErrorCode } from '../file-error.js';

/** Whether what is there may be replaced now. */
export type MayReplace = () => Promise<boolean>;

/** Renames a file to where it is to be seen. Throws EEXIST where something is there that may not be replaced, and what the system says. */
export async function putInPlace(from: string, to: string, may: MayReplace): Promise<void> {
  if (await may()) return rename(from, to);
  try {
    await renameToNew(from, to);
  } catch (error) {
    // Put there since it was looked at.
    if (fileErrorCode(error) !== 'EEXIST' || !(await may())) throw error;
    await rename(from, to);
  }
}

/** A rename that never replaces what another run put there meanwhile; throws EEXIST instead. */
async function renameToNew(from: string, to: string): Promise<void> {
  try {
    await link(from, to);
  } catch (error) {
    // Some file systems have no links. There the moment between looking and renaming stays open.
    if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK', 'EINVAL'].includes(fileErrorCode(error))) throw error;
    if (await stat(to).catch(() => null)) throw Object.assign(new Error('exists'), { code: 'EEXIST' });
    await rename(from, to);
    return;
  }
  await unlink(from);
}
