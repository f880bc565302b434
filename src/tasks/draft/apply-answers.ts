import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
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

/** What may be said of a column beside its header. */
const COLUMN_MEMBERS = ['header', 'unit', 'words', 'form', 'zone', 'scale', 'leap_seconds', 'means'];

/**
 * The draft with answers in place. An answer takes the place of a value or of a member of it, makes an offered line count, or adds a
 * line of its own, of a base to each of its set-ups; `none` takes a line away, or every line below a key. Of a value with a header and
 * more, an answer that is one text is the header.
 * Given: answers by dotted key. Returned: the new draft. Problems: usage-invalid for a base that the draft does not have, and for what no
 * column can be told.
 */
export function applyAnswers(draft: Draft, answers: Answers): Outcome<Draft> {
  let lines = draft.lines;
  for (const [key, answer] of answers) {
    const problem = baseProblem(key, lines) ?? columnProblem(key);
    if (problem !== null) return failure(problem);
    if (answer === NONE) {
      lines = lines.filter((line) => dottedKey(line) !== key && !dottedKey(line).startsWith(`${key}.`));
      continue;
    }
    const isOf = (line: DraftLine): boolean => key === dottedKey(line) || key.startsWith(`${dottedKey(line)}.`);
    lines = lines.some(isOf)
      ? lines.map((line) => (isOf(line) ? answered(line, key.slice(dottedKey(line).length + 1), answer) : line))
      : [...lines, ...added(key, answer, lines)];
  }
  return success({ ...draft, lines });
}

/** Lines that the draft did not have: one, or of a base one for each of its set-ups. */
function added(key: string, answer: DraftValue, lines: readonly DraftLine[]): readonly DraftLine[] {
  const why = ['answered with the command'];
  const base = baseOf(key, lines);
  const [section, column = '', ...members] = key.split('.');
  // A column of our own name needs no line of its own until more is said of it.
  if (section === 'columns' && members.length > 0)
    return [{ path: [section, column], value: withMember({ header: column }, members, answer), why }];
  if (base === null) return [{ path: splitOnce(key), value: answer, why }];
  const name = key.slice(`base.${base}.`.length);
  return setUpsOf(lines)
    .filter((setUp) => idOf(setUp) === base)
    .map((setUp) => ({ path: ['base', setUp, name], value: answer, why }));
}

/** The base that an answer is about: an id may hold points itself. */
function baseOf(key: string, lines: readonly DraftLine[]): string | null {
  return (
    setUpsOf(lines)
      .map(idOf)
      .find((id) => key.startsWith(`base.${id}.`)) ?? null
  );
}

function setUpsOf(lines: readonly DraftLine[]): readonly string[] {
  return [...new Set(lines.flatMap(({ path: [section, setUp = ''] }) => (section === 'base' ? [setUp] : [])))];
}

function idOf(setUp: string): string {
  return setUp.slice(0, Math.max(0, setUp.lastIndexOf('#')));
}

function baseProblem(key: string, lines: readonly DraftLine[]): Problem | null {
  if (
    !key.startsWith('base.') ||
    lines.some((line) => dottedKey(line) === key || dottedKey(line).startsWith(`${key}.`))
  )
    return null;
  if (baseOf(key, lines) !== null) return null;
  const ids = [...new Set(setUpsOf(lines).map(idOf))].filter((id) => id !== '');
  return errorProblem('usage-invalid', {
    message: `--answer ${key}: the draft has no such base`,
    received: key,
    hint:
      ids.length === 0 ? 'the files name no base' : `the files name ${ids.join(', ')}: base.${ids.join('… or base.')}…`,
  });
}

/** `columns.NAME.MEMBER`: a member that no column has would be written where nothing reads it. */
function columnProblem(key: string): Problem | null {
  const [section, name, member] = key.split('.');
  if (section !== 'columns' || name === undefined || member === undefined || COLUMN_MEMBERS.includes(member))
    return null;
  return errorProblem('usage-invalid', {
    message: `--answer ${key}: a column has no ${member}`,
    received: key,
    hint: `words of the file stand below words: columns.${name}.words.${key.split('.').slice(2).join('.')}; else ${COLUMN_MEMBERS.join(', ')}`,
  });
}

function answered(line: DraftLine, member: string, answer: DraftValue): DraftLine {
  const { path, value, why } = line;
  const isTable = typeof value === 'object' && !Array.isArray(value);
  const into: DraftValue =
    member !== ''
      ? withMember(isTable ? (value as Table) : tableOf(path, value), member.split('.'), answer)
      : isTable && typeof answer === 'string' && 'header' in (value as Table)
        ? { ...(value as Table), header: answer }
        : answer;
  return { path, value: into, why: [...why, 'answered with the command'] };
}

/** A column that was its header alone keeps it when more is said of it. */
function tableOf([section]: readonly string[], value: DraftValue): Table {
  return section === 'columns' && typeof value === 'string' ? { header: value } : {};
}

function withMember(table: Table, members: readonly string[], answer: DraftValue): DraftValue {
  const [first = '', ...rest] = members;
  const inner = table[first];
  // A word of the file may hold points itself.
  const whole = members.join('.');
  if (rest.length === 0 || Object.hasOwn(table, whole)) return { ...table, [whole]: answer };
  return { ...table, [first]: withMember(typeof inner === 'object' ? (inner as Table) : {}, rest, answer) };
}

/** `columns.x.y` is the member of a section. */
function splitOnce(key: string): readonly string[] {
  const at = key.indexOf('.');
  return at < 0 ? ['', key] : [key.slice(0, at), key.slice(at + 1)];
}
