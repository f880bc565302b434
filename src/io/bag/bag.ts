import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import { VERSION } from '../../records/runs/version.js';

/** A file of a delivery: its path with slashes, and its bytes. */
export interface BagFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/**
 * A bag: the files of a delivery below `data`, with manifests that `sha256sum -c` reads.
 *
 * Given: the payload, its paths below `data`; what `bag-info.txt` says, label and value in order (a line break in a value
 * becomes a space). Returned: every file, by path: the same payload and information give the same bytes.
 *
 * Note: paths come from `bagPath`, so that no manifest needs an escape.
 *
 * Reference: RFC-8493 sections 2.1.1 (`bagit.txt`), 2.1.3 (payload manifest), 2.2.1 (tag manifest), 2.2.2 (`bag-info.txt`).
 */
export function bagOf(
  payload: readonly BagFile[],
  info: readonly (readonly [label: string, value: string])[],
): readonly BagFile[] {
  const data = sorted(payload.map(({ path, bytes }) => ({ path: `data/${path}`, bytes })));
  const bytes = data.reduce((sum, file) => sum + file.bytes.length, 0);
  const lines = [
    ...info,
    ['Payload-Oxum', `${String(bytes)}.${String(data.length)}`],
    ['Bag-Software-Agent', `pegbook ${VERSION}`],
  ] as const;
  const tags = sorted([
    { path: 'bagit.txt', bytes: utf8('BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n') },
    {
      path: 'bag-info.txt',
      bytes: utf8(lines.map(([label, value]) => `${label}: ${value.replaceAll(/\s+/gu, ' ').trim()}\n`).join('')),
    },
    { path: 'manifest-sha256.txt', bytes: manifest(data) },
  ]);
  return [...tags, { path: 'tagmanifest-sha256.txt', bytes: manifest(tags) }, ...data];
}

/** A path that every system and every manifest takes as it is: no way up, no sign that any of them escapes. */
export function bagPath(name: string): string {
  return name
    .split('/')
    .filter((part) => part !== '' && part !== '.')
    .map((part) => (part === '..' ? 'above' : withoutTail(part.replaceAll(/[\u0000-\u001f\u007f%\\:*?"<>|]/gu, '_'))))
    .join('/');
}

/** A name whose dots and blanks at the end, which some systems drop, are one sign that none does. */
function withoutTail(name: string): string {
  let end = name.length;
  while (end > 0 && (name[end - 1] === '.' || name[end - 1] === ' ')) end -= 1;
  return end === name.length ? name : `${name.slice(0, end)}_`;
}

function manifest(files: readonly BagFile[]): Uint8Array {
  return utf8(
    files.map(({ path, bytes }) => `${createHash('sha256').update(bytes).digest('hex')}  ${path}\n`).join(''),
  );
}

function sorted(files: readonly BagFile[]): readonly BagFile[] {
  return [...files].sort((a, b) => (a.path < b.path ? -1 : 1));
}

function utf8(text: string): Uint8Array {
  return Buffer.from(text, 'utf8');
}
