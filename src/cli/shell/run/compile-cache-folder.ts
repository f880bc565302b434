import { posix, win32 } from 'node:path';

/**
 * Where the engine may keep its compiled form of the program: the user's own place for what can be made again.
 *
 * Given: the operating system as Node.js calls it; the environment; what gives the user's folder, and may throw where there is none.
 * Returned: the folder; null: there is no such place.
 */
export function compileCacheFolder(
  system: string,
  env: Readonly<Record<string, string | undefined>>,
  home: () => string,
): string | null {
  const paths = system === 'win32' ? win32 : posix;
  const stated = system === 'win32' ? env['LOCALAPPDATA'] : system === 'darwin' ? undefined : env['XDG_CACHE_HOME'];
  if (stated !== undefined && paths.isAbsolute(stated)) return paths.join(stated, 'pegbook', 'compiled');
  if (system === 'win32') return null;
  try {
    const own = home();
    const kept = system === 'darwin' ? paths.join('Library', 'Caches') : '.cache';
    return paths.isAbsolute(own) ? paths.join(own, kept, 'pegbook', 'compiled') : null;
  } catch {
    // A user without a folder.
    return null;
  }
}
