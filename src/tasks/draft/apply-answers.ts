import { NONE } from './draft-line.js';
import type { Answers, Draft, DraftLine, DraftValue } from './draft-line.js';

type Table = Readonly<Record<string, DraftValue>>;

/** The key of a line as answers name it: `system.grid`; of every set-up of a base `base.ID.broadcast`. */
export function dottedKey({ path }: DraftLine): string {
  const [section = '', second = '', third] = path;
  return third === undefined
    ? `${section}.${second}`
    : `${section}.${second.slice(0, Math.max(0, second.lastIndexOf('#')))}.${third}`;
}

/**
 * The draft with answers in place. An answer takes the place of a value or of a member of it, makes an offered line count, or adds a
 * line of its own; `none` takes a line away, or every line below a key. Of a value with a header and more, an answer that is one text is
 * the header.
 * Given: answers by dotted key. Returned: the new draft.
 */
export function applyAnswers(draft: Draft, answers: Answers): Draft {
  let lines = draft.lines;
  for (const [key, answer] of answers) {
    if (answer === NONE) {
      lines = lines.filter((line) => dottedKey(line) !== key && !dottedKey(line).startsWith(`${key}.`));
      continue;
    }
    const isOf = (line: DraftLine): boolean => key === dottedKey(line) || key.startsWith(`${dottedKey(line)}.`);
    lines = lines.some(isOf)
      ? lines.map((line) => (isOf(line) ? answered(line, key.slice(dottedKey(line).length + 1), answer) : line))
      : [...lines, { path: splitOnce(key), value: answer, why: ['answered with the command'] }];
  }
  return { ...draft, lines };
}

function answered(line: DraftLine, member: string, answer: DraftValue): DraftLine {
  const { path, value, why } = line;
  const isTable = typeof value === 'object' && !Array.isArray(value);
  const into: DraftValue =
    member !== ''
      ? withMember(isTable ? (value as Table) : {}, member.split('.'), answer)
      : isTable && typeof answer === 'string' && 'header' in (value as Table)
        ? { ...(value as Table), header: answer }
        : answer;
  return { path, value: into, why: [...why, 'answered with the command'] };
}

function withMember(table: Table, members: readonly string[], answer: DraftValue): DraftValue {
  const [first = '', ...rest] = members;
  const inner = table[first];
  // A word of the file may hold points itself.
  const whole = members.join('.');
  if (rest.length === 0 || Object.hasOwn(table, whole)) return { ...table, [whole]: answer };
  return { ...table, [first]: withMember(typeof inner === 'object' ? (inner as Table) : {}, rest, answer) };
}

/** `columns.x.y` is the member of a section; of a base nothing can be added. */
function splitOnce(key: string): readonly string[] {
  const at = key.indexOf('.');
  return at < 0 ? ['', key] : [key.slice(0, at), key.slice(at + 1)];
}
