import type { FoundColumn } from '../tables/columns/column-map.js';

/** What is said of a word that is none of ours: the nearest, and where files have words of their own the line of a session that says what it stands for. */
export function wordHint(
  { name, header }: FoundColumn,
  cell: string,
  near: string | null,
  isTranslated: boolean,
): string | undefined {
  const asked = near === null ? undefined : `did you mean ${near}?`;
  if (!isTranslated) return asked;
  const line = `${name} = { header = ${JSON.stringify(header)}, words = { ${JSON.stringify(cell)} = ${JSON.stringify(near ?? '…')} } }`;
  return `${asked === undefined ? '' : `${asked} else `}say what it stands for in the session, under [columns]: ${line}`;
}
