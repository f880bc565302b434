import type { DraftedFiles } from '../../../files/draft/draft-files.js';
import { isAsking } from '../../../tasks/draft/draft-line.js';

/** Lines that are named one by one. */
const MOST_NAMED = 12;

/** What to do next, in three lines. */
export function nextLines(
  { draft, asked, sources }: DraftedFiles,
  paths: readonly string[],
  output: string,
): readonly [string, string, string] {
  const name = output === '-' ? 'the draft' : output;
  const count = draft.lines.filter(({ isOffered }) => isOffered !== true).length;
  const kind = sources.find(({ isKindGuessed }) => isKindGuessed)?.kind;
  const input = kind === undefined ? '' : ` --input ${kind}`;
  const session = output === '-' ? 'session.toml' : output;
  const numbers = asked.slice(0, MOST_NAMED).map(({ line }) => String(line));
  const rest = asked.length > MOST_NAMED ? ', …' : '';
  const [first] = asked;
  return [
    asked.length === 0
      ? `${name}: ${String(count)} settings guessed or answered, none is asked`
      : `${name}: ${String(count)} settings, ${String(asked.length)} of them asked: ${numbers.length === 1 ? 'line' : 'lines'} ${numbers.join(', ')}${rest}`,
    first === undefined
      ? 'read every line against the settings of your logger, the units first'
      : `write an answer in place of each "?", or give it here: --answer ${answerKey(first.key)}=…; read the other lines`,
    `then: pegbook reduce-points ${paths.join(' ')}${input} --session ${session} -o points.csv`,
  ];
}

/** A key as `--answer` takes it: of a base without the number of its set-up. */
function answerKey(key: string): string {
  return key.replace(/^(?<base>base\.[^#]*)#\d*\./u, '$<base>.');
}

/** The lines of a draft as JSON. */
export function draftJson({ draft, asked, text }: DraftedFiles): string {
  const lines = draft.lines
    .filter(({ path }) => path.at(-1) !== '')
    .map(({ path, value, why, isOffered }) => ({
      key: answerKey(path.join('.')),
      value,
      from: why,
      is_asked: isOffered !== true && isAsking(value),
      is_offered: isOffered === true,
    }));
  return `${JSON.stringify({ schema: 'pegbook-draft', version: 1, summary: { settings: lines.length, asked: asked.length }, lines, text }, null, 2)}\n`;
}
