import type { FinishedRun } from '../../../records/runs/finished-run.js';
import type { EntryFiles } from '../../../records/runs/manifest-entry.js';

/** `done`: nothing that its results depend on is otherwise than it was; `failed`: errors stopped it; `not-run`: no record says that it was. */
export type EntryState = 'done' | 'failed' | 'changed' | 'not-run';

/** How an entry of a manifest stands. */
export interface EntryJudgement {
  readonly state: EntryState;
  /** What changed; null: nothing, or there is nothing to compare with. */
  readonly changed: string | null;
}

/** What a run of the entry would be. */
export interface AskedRun {
  readonly toolVersion: string;
  /** The words of its command. */
  readonly words: readonly string[];
}

/** A run that ended with more than this has no answer. */
const LAST_WITH_ANSWER = 1;

/**
 * How an entry stands, by its record.
 * Given: the record, or null; what it says as that of an entry, or null; what a run now would be; the SHA-256 of a file now by its
 * name in the record, null where it is not there.
 */
export function judgeEntry(
  run: FinishedRun | null,
  files: EntryFiles | null,
  asked: AskedRun,
  now: ReadonlyMap<string, string | null>,
): EntryJudgement {
  if (run === null) return { state: 'not-run', changed: null };
  if (run.verdict === 'error' || run.exitCode > LAST_WITH_ANSWER) return { state: 'failed', changed: null };
  const changed = whatChanged(run, files, asked, now);
  return { state: changed === null ? 'done' : 'changed', changed };
}

function whatChanged(
  run: FinishedRun,
  files: EntryFiles | null,
  asked: AskedRun,
  now: ReadonlyMap<string, string | null>,
): string | null {
  if (files === null) return 'its record is not of a run of a manifest';
  if (run.toolVersion !== asked.toolVersion)
    return `it was run by version ${run.toolVersion}, and this is ${asked.toolVersion}`;
  const other = otherWords(run.argv, asked.words);
  if (other !== null) return `it was run ${other}`;
  for (const [list, edited] of [
    [files.inputs, 'is another now'],
    [files.outputs, 'is not as it was written'],
  ] as const)
    for (const { name, sha256 } of list) {
      const found = now.get(name) ?? null;
      if (found !== sha256) return `${name} ${found === null ? 'is not there' : edited}`;
    }
  return null;
}

/** How the words of a run differ from those of another, in words; null: they do not. */
function otherWords(ran: readonly string[], asked: readonly string[]): string | null {
  const [then, now] = [partsOf(ran), partsOf(asked)];
  if (then.join('\n') === now.join('\n')) return null;
  const only = (parts: readonly string[], others: readonly string[]): string =>
    parts.filter((part) => !others.includes(part)).join(' ');
  const [before, after] = [only(then, now), only(now, then)];
  if (before === '') return after === '' ? 'with its options in another order' : `without ${after}`;
  return after === '' ? `with ${before}` : `with ${before}, not with ${after}`;
}

/** The command with its inputs, then each option with its value. */
function partsOf(words: readonly string[]): readonly string[] {
  const parts: string[] = [];
  for (const word of words) {
    const last = parts.at(-1);
    if (last === undefined || word.startsWith('--')) parts.push(word);
    else parts[parts.length - 1] = `${last} ${word}`;
  }
  return parts;
}
