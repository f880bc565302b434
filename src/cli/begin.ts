import nodeModule from 'node:module';
import { homedir, platform } from 'node:os';
import { compileCacheFolder } from './shell/run/compile-cache-folder.js';
import type { ProcessLike } from './shell/context.js';

/**
 * What the executable runs: `main`, from the engine's compiled form of the program where it has one.
 *
 * From Node.js 22.1 on the engine keeps that form in the user's place for what can be made again, for the next run; where it may
 * not, it does without. `NODE_DISABLE_COMPILE_CACHE=1` turns it off, `NODE_COMPILE_CACHE` names another place.
 */
export async function main(process: ProcessLike): Promise<number> {
  const folder = compileCacheFolder(platform(), process.env, homedir);
  // Older engines have no such function.
  const { enableCompileCache } = nodeModule as { enableCompileCache?: (folder: string) => unknown };
  if (folder !== null) enableCompileCache?.(folder);
  const { main: run } = await import('./main.js');
  return run(process);
}
