import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT, textOf } from '../repository-files.js';

/** Which cited keys and pages do not exist, and how many were looked up: a key is written in capitals, a page by its path. */
export function keysOfSources(sources: readonly string[]): {
  readonly missing: readonly string[];
  readonly count: number;
} {
  const keys = new Set([...textOf('docs/references.md').matchAll(/^- \*\*([^*]+)\*\* — /gmu)].map(([, key]) => key));
  const cited = sources.flatMap((source) =>
    [...source.matchAll(/docs\/[\w/-]+\.md|\b[A-Z][A-Z0-9]*(?:-[A-Z0-9]+)+\b/gu)].map(([own]) => own),
  );
  return {
    missing: [...new Set(cited)].filter(
      (own) => !(own.startsWith('docs/') ? existsSync(join(ROOT, own)) : keys.has(own)),
    ),
    count: cited.length,
  };
}
