import { AsyncLocalStorage } from 'node:async_hooks';
import { realpath } from 'node:fs/promises';
import type { FileHandle } from 'node:fs/promises';

/** What tells one file from another, whatever it is called: its device and number. */
export interface FileIdentity {
  readonly dev: number;
  readonly ino: number;
}

/** A file that was opened for reading. */
export interface OpenedFile {
  /** Absolute. */
  readonly path: string;
  /** Of its bytes as they were read; null: not read to its end. */
  readonly digest: { readonly bytes: number; readonly sha256: string } | null;
}

/** Every file that a run has read, and where it may read. */
export interface InputRegistry {
  /** The real path of the only folder that files may be read from; null: any. */
  readonly confine: string | null;
  readonly add: (file: FileIdentity, path: string) => void;
  /** What was read of a file that was read to its end, by its absolute path. */
  readonly digested: (path: string, digest: NonNullable<OpenedFile['digest']>) => void;
  /** In the order they were opened first. */
  readonly opened: () => readonly OpenedFile[];
  readonly has: (file: FileIdentity) => boolean;
  /** A file that is to be closed when the run ends, where nobody has closed it before: one that was stopped has not read it to its end. */
  readonly holds: (handle: FileHandle) => void;
  /** Closes what is still held. */
  readonly release: () => Promise<void>;
}

const current = new AsyncLocalStorage<InputRegistry>();

/** An empty registry. */
function createInputRegistry(confine: string | null): InputRegistry {
  const seen = new Set<string>();
  const digests = new Map<string, OpenedFile['digest']>();
  const held = new Set<FileHandle>();
  const key = ({ dev, ino }: FileIdentity): string => `${String(dev)}:${String(ino)}`;
  return {
    confine,
    // A file system that numbers no files tells none apart.
    add: (file, path) => {
      if (file.ino !== 0) seen.add(key(file));
      if (!digests.has(path)) digests.set(path, null);
    },
    digested: (path, digest) => void digests.set(path, digest),
    opened: () => [...digests].map(([path, digest]) => ({ path, digest })),
    has: (file) => file.ino !== 0 && seen.has(key(file)),
    holds(handle) {
      // One that is closed has no number any more.
      for (const other of held) if (other.fd < 0) held.delete(other);
      held.add(handle);
    },
    async release() {
      await Promise.all(Array.from(held, (handle) => handle.close().catch(() => undefined)));
    },
  };
}

/** An empty registry of inputs below a folder, whatever it is called; null: from anywhere. */
export async function inputRegistryBelow(folder: string | null): Promise<InputRegistry> {
  return createInputRegistry(folder === null ? null : await realpath(folder).catch(() => folder));
}

/** Runs something whose inputs, opened by `openInput` anywhere within, go into the registry, and are closed when it is over. */
export function withInputRegistry<T>(registry: InputRegistry, run: () => Promise<T>): Promise<T> {
  return current.run(registry, async () => {
    try {
      return await run();
    } finally {
      await registry.release();
    }
  });
}

/** The registry of the run this is called in; null outside of one. */
export function inputRegistry(): InputRegistry | null {
  return current.getStore() ?? null;
}
