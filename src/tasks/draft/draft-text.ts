import { isAsking } from './draft-line.js';
import type { Draft, DraftLine, DraftValue } from './draft-line.js';

/** A drafted session as TOML, and the lines of it that ask. */
export interface DraftText {
  readonly text: string;
  /** Line numbers, from 1, with their keys. */
  readonly asked: readonly { readonly line: number; readonly key: string }[];
}

const SECTIONS: readonly string[] = [
  '',
  'table',
  'system',
  'height',
  'rover',
  'base',
  'acceptance',
  'precision',
  'tolerance',
  'columns',
];

/** Writes a draft: sections in the order of a session file, over each setting what it was guessed from. */
export function draftText(draft: Draft, sources: readonly string[]): DraftText {
  const out: string[] = [
    `# Drafted from ${sources.join(', ')}. Every line is a guess to be confirmed; what it was guessed from stands above it.`,
    '# A "?" is asked: write the answer in its place. No other command takes this file before.',
    'version = 1',
  ];
  const asked: { line: number; key: string }[] = [];
  for (const section of SECTIONS) {
    const lines = draft.lines.filter(({ path }) => path[0] === section);
    let group: string | null = null;
    for (const line of lines) {
      const [, second = '', third] = line.path;
      const own = third === undefined ? section : second;
      if (own !== group) out.push(...(section === '' ? [] : ['', heading(section, third !== undefined, lines, line)]));
      group = own;
      for (const why of line.why) out.push(`# ${comment(why)}`);
      const key = third ?? second;
      if (key === '') continue;
      out.push(`${line.isOffered === true ? '# ' : ''}${tomlKey(key)} = ${tomlText(line.value)}`);
      if (line.isOffered !== true && isAsking(line.value)) asked.push({ line: out.length, key: line.path.join('.') });
    }
  }
  return { text: `${out.join('\n')}\n`, asked };
}

/** A heading is a comment where everything below it is. */
function heading(section: string, isList: boolean, lines: readonly DraftLine[], { path }: DraftLine): string {
  const below = isList ? lines.filter((line) => line.path[1] === path[1]) : lines;
  const mark = isList && below.every(({ isOffered }) => isOffered === true) ? '# ' : '';
  return `${mark}${isList ? `[[${section}]]` : `[${section}]`}`;
}

function comment(text: string): string {
  return text.replace(/\p{Cc}/gu, '�');
}

function tomlKey(key: string): string {
  return /^[\w-]+$/u.test(key) ? key : tomlString(key);
}

/** A value as TOML, tables inline. */
export function tomlText(value: DraftValue): string {
  if (typeof value === 'number') return String(value);
  // A pattern to fill in stands as it is, in a comment.
  if (typeof value === 'string') return value.startsWith('{ ') && value.includes('…') ? value : tomlString(value);
  if (Array.isArray(value)) return `[${(value as readonly DraftValue[]).map((entry) => tomlText(entry)).join(', ')}]`;
  const entries = Object.entries(value as Readonly<Record<string, DraftValue>>);
  return `{ ${entries.map(([key, entry]) => `${tomlKey(key)} = ${tomlText(entry)}`).join(', ')} }`;
}

/** A basic string of TOML 1.0: JSON's escapes are among its own. */
function tomlString(text: string): string {
  return JSON.stringify(text).replaceAll('\u007f', '\\u007f');
}
