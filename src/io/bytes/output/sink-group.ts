import { failure, failureOf, success } from '../../../records/outcome.js';
import type { Failure, Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { FileDigest } from '../../../records/runs/provenance.js';
import { hashedSink } from './hashed-sink.js';
import { openSink } from './sink.js';
import type { Sink, SinkOptions } from './sink.js';
import type { FileState } from '../digest-file.js';

/** What a group is opened with. */
export interface SinkGroupOptions extends SinkOptions {
  /** Says of an existing file that it may be overwritten without force by what is written: its digest, null before it is; with digests only. */
  readonly mayReplaceBy?: (path: string, next: FileState | null) => Promise<boolean>;
}

/** A file of a group: as it was opened, and what it holds. */
export interface WrittenFile {
  readonly path: string;
  readonly digest: FileDigest;
}

/** The outputs of one run, which appear together or not at all. */
export interface SinkGroup {
  /** Given: what may be overwritten there without force, if anything. Problems: those of `openSink`; usage-conflict where two outputs are one file. */
  readonly open: (pathOrDash: string, mayReplace?: SinkOptions['mayReplace']) => Promise<Outcome<Sink>>;
  /** Takes an output that was opened elsewhere; no digest is taken of it. Problem: usage-conflict. */
  readonly add: (sink: Sink) => Promise<Outcome<Sink>>;
  /** Completes every output; nothing is visible yet. Problem: file-write-failed, and then all are removed. */
  readonly finish: () => Promise<Outcome<null>>;
  /**
   * Completes every output (where `finish` has not) before the first is made visible; standard output comes last.
   * Problem: file-write-failed, and then the outputs not yet visible are removed. Where a rename itself fails after
   * another has succeeded, the message says which files are in place.
   */
  readonly commit: () => Promise<Outcome<'written' | 'stopped'>>;
  /** What was written to files, after `finish` and before `commit`; empty where no digests were asked for. */
  readonly written: () => readonly WrittenFile[];
  /** Leaves nothing behind; may be called at any time, also after `commit`. */
  readonly abort: () => Promise<void>;
}

/** The digests of files, where they are asked for. */
function createDigests(isAsked: boolean): {
  readonly of: (path: string, sink: Sink) => { readonly sink: Sink; readonly digest: (() => FileDigest) | null };
  readonly written: () => readonly WrittenFile[];
} {
  const taken: { readonly path: string; readonly digest: () => FileDigest }[] = [];
  return {
    of(path, sink) {
      if (!isAsked || sink.key === '-') return { sink, digest: null };
      const hashed = hashedSink(sink);
      taken.push({ path, digest: hashed.digest });
      return hashed;
    },
    written: () => taken.map(({ path, digest }) => ({ path, digest: digest() })),
  };
}

/** A group without outputs. `isHashed`: take the digests of what is written to files. */
export function createSinkGroup(options: SinkGroupOptions, isHashed = false): SinkGroup {
  const sinks: Sink[] = [];
  const digests = createDigests(isHashed);
  const taken = options.taken ?? new Set<string>();
  let isFinished = false;

  async function abort(): Promise<void> {
    for (const sink of sinks.splice(0)) await sink.abort();
  }

  async function add(sink: Sink): Promise<Outcome<Sink>> {
    if (taken.has(sink.key)) return twoToOne(sink);
    taken.add(sink.key);
    sinks.push(sink);
    return success(sink);
  }

  async function finish(): Promise<Outcome<null>> {
    const finished = isFinished ? success(null) : await finishEach(sinks);
    if (finished.ok) isFinished = true;
    else await abort();
    return finished;
  }

  return {
    abort,
    finish,
    written: digests.written,
    add,
    async open(pathOrDash, mayReplace) {
      let next: (() => FileState) | null = null;
      const asked = replacing(options, mayReplace, () => next?.() ?? null);
      const opened = await openSink(pathOrDash, asked);
      const added = opened.ok ? await add(opened.value) : opened;
      if (!added.ok) return added;
      const { sink, digest } = digests.of(pathOrDash, added.value);
      next = digest;
      return success(sink, opened.problems);
    },
    async commit() {
      const finished = await finish();
      if (!finished.ok) return finished;
      const inPlace: string[] = [];
      let ending: 'written' | 'stopped' = 'written';
      for (const sink of [...sinks].sort((a, b) => Number(a.key === '-') - Number(b.key === '-'))) {
        const committed = await sink.commit();
        if (!committed.ok) {
          await abort();
          const notes = inPlace.map((source) =>
            errorProblem('file-write-failed', {
              message: 'was written before the failure and is in place',
              where: { source },
            }),
          );
          return failureOf([...committed.problems, ...notes]);
        }
        if (committed.value === 'stopped') ending = 'stopped';
        inPlace.push(sink.name);
      }
      sinks.length = 0;
      return success(ending);
    },
  };
}

/** Completes outputs until one fails. */
async function finishEach(sinks: readonly Sink[]): Promise<Outcome<null>> {
  for (const sink of sinks) {
    const finished = await sink.finish();
    if (!finished.ok) return finished;
  }
  return success(null);
}

/** The options of one output: what it may replace is asked with the digest of what was written of it, null before it is. */
function replacing(
  options: SinkGroupOptions,
  mayReplace: SinkOptions['mayReplace'],
  next: () => FileState | null,
): SinkOptions {
  const { mayReplaceBy } = options;
  const may = mayReplaceBy === undefined ? mayReplace : (path: string) => mayReplaceBy(path, next());
  if (may === undefined) return options;
  return { ...options, mayReplace: may, ...(mayReplaceBy !== undefined && { mayReplaceNew: true }) };
}

/** Gives up an output that is another already. */
async function twoToOne(sink: Sink): Promise<Failure> {
  await sink.abort();
  const message = `two outputs go to ${sink.name}`;
  return failure(errorProblem('usage-conflict', { message, hint: 'give each output its own file' }));
}
