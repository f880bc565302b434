type Awaited = 'value' | 'value-or-close' | 'key' | 'key-or-close' | 'colon' | 'comma-or-close' | 'end';

/** A string, a number, a literal or a mark, after white space. Source: RFC 8259 sections 2, 3, 6 and 7. */
const TOKEN =
  /[ \t\n\r]*(?:("(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*")|(-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null)|([[\]{},:]))/y;
const SPACE = /[ \t\n\r]*/y;

/**
 * Where a text first stops being JSON: an offset, that of the first sign which can't stand there, or the text's length
 * where it ends too early; null where it is JSON. Engines word and place such faults each in its own way; this says the
 * same in all of them. Source: RFC 8259.
 */
export function jsonFaultPosition(text: string): number | null {
  const stack: string[] = [];
  let awaited: Awaited = 'value';
  let at = 0;
  for (;;) {
    TOKEN.lastIndex = at;
    const found = TOKEN.exec(text);
    if (found === null || awaited === 'end') break;
    const [, string, , mark] = found;
    const next = after(awaited, mark ?? (string === undefined ? 'plain' : 'string'), stack);
    if (next === null) break;
    awaited = next;
    at = TOKEN.lastIndex;
  }
  SPACE.lastIndex = at;
  SPACE.exec(text);
  return awaited === 'end' && SPACE.lastIndex === text.length ? null : SPACE.lastIndex;
}

/** What may follow a token; null where it can't stand there. `stack` holds the lists and objects around it. */
function after(awaited: Awaited, token: string, stack: string[]): Awaited | null {
  if (token === ':') return awaited === 'colon' ? 'value' : null;
  if (token === ',') return awaited !== 'comma-or-close' ? null : stack.at(-1) === '{' ? 'key' : 'value';
  if (token === ']' || token === '}') {
    const isAwaited = awaited.endsWith('or-close') && stack.at(-1) === (token === ']' ? '[' : '{');
    if (!isAwaited) return null;
    stack.pop();
    return stack.length === 0 ? 'end' : 'comma-or-close';
  }
  if (awaited.startsWith('key')) return token === 'string' ? 'colon' : null;
  if (!awaited.startsWith('value')) return null;
  if (token === '[' || token === '{') {
    stack.push(token);
    return token === '[' ? 'value-or-close' : 'key-or-close';
  }
  return stack.length === 0 ? 'end' : 'comma-or-close';
}
