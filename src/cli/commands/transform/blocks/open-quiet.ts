import { WAY } from '../../../../io/host/way.js';
import type { TransformRun } from '../../../../tasks/transform/transform-run.js';
import { textsGiven } from '../../../shell/command-spec.js';
import { workerCount } from '../../../shell/run/worker-count.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { OpenedPlaces } from '../open-places.js';
import type { OwnPlaceCheck } from '../own-place-check.js';
import type { PlaceWriter } from '../place-writer.js';
import { createQuietBlock, quietHere } from './quiet-blocks.js';
import type { QuietBlocks } from './quiet-blocks.js';

/** What is known of a run before its rows. */
export interface RunOfPlaces {
  readonly opened: OpenedPlaces;
  readonly compare: OwnPlaceCheck;
  readonly run: TransformRun;
  readonly writer: PlaceWriter;
}

/**
 * How blocks of which nothing is to be said are carried: here, or with more than one worker by threads too. Null: rows are looked at one by
 * one, as each may have a second position or a reason to be doubted, or what is written is no such table.
 */
export async function openQuiet(
  { invocation, context }: Workbench,
  { opened, compare, run, writer }: RunOfPlaces,
): Promise<QuietBlocks | null> {
  const { input, source } = opened;
  const { bytes, passThroughNames, hasOther } = input;
  const isEachLookedAt = (compare !== null && hasOther) || reasonsIndex(passThroughNames) >= 0;
  const here = isEachLookedAt ? null : createQuietBlock(bytes?.plainOf ?? null, run, writer);
  if (here === null || bytes === null) return null;
  // A stream whose size is not known is taken for a small one.
  const workers = workerCount(invocation, source.size ?? 0);
  if (WAY === 'usual' ? workers === 1 : WAY === 'general') return quietHere(here);
  // What is read from standard input can be read once.
  const isPiped = textsGiven(invocation, ['site', 'shift', 'geoid', 'velocityGrid']).includes('-');
  const { quietThreads } = await import('./quiet-threads.js');
  return quietThreads(isPiped ? 0 : workers - 1, { invocation, cwd: context.cwd, head: bytes.head }, here);
}

/** Where the column of reasons stands among those that pass through, or −1. */
export function reasonsIndex(names: readonly string[]): number {
  return names.findIndex((name) => name.toLowerCase() === 'reasons');
}
