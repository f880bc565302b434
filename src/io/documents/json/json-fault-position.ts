type Awaited = 'value' | 'value-or-close' | 'key' | 'key-or-close' | 'colon' | 'comma-or-close' | 'end';

/** A number, a literal or a mark. Source: RFC 8259 sections 2, 3 and 6. */
const TOKEN = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null|[[\]{},:]/y;
/** A sign that stands for itself in a string, escaped. Source: RFC 8259 section 7. */
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
const SPACE = /[ \t\n\r]*/y;
const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const FIRST_PLAIN = 0x20;

/**
 * Where a text first stops being JSON: an offset, that of the first sign which can't stand there, or the text's length
 * where it ends too early; null where it is JSON. Engines word and place such faults each in its own way; this says the
 * same in all of them. Source: RFC 8259.
 */
export function jsonFaultPosition(text: string): number | null {
  const stack: string[] = [];
  let awaited: Awaited = 'value';
  let at = afterSpace(text, 0);
  while (at < text.length) {
    const isString = text.charCodeAt(at) === QUOTE;
    const end = isString ? endOfString(text, at) : endOf(TOKEN, text, at);
    const next: Awaited | null = end === null ? null : after(awaited, isString ? 'string' : text.slice(at, end), stack);
    if (end === null || next === null) return at;
    awaited = next;
    at = afterSpace(text, end);
  }
  return awaited === 'end' ? null : at;
}

function afterSpace(text: string, at: number): number {
  return endOf(SPACE, text, at) ?? at;
}

/** After what is found just there; null where it is not. */
function endOf(pattern: RegExp, text: string, at: number): number | null {
  pattern.lastIndex = at;
  return pattern.test(text) ? pattern.lastIndex : null;
}

/** After the closing quote; null where the string is none. Signs are met one by one: a pattern over a long string fills the stack. */
function endOfString(text: string, start: number): number | null {
  for (let at = start + 1; at < text.length;) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) return at + 1;
    if (code < FIRST_PLAIN) return null;
    const end = code === BACKSLASH ? endOf(ESCAPE, text, at) : at + 1;
    if (end === null) return null;
    at = end;
  }
  return null;
}

/** What may follow a token (a mark, or any word for a plain value); null where it can't stand there. `stack` holds the lists and objects around it. */
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
