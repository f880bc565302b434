/** One program of a pipeline, with its words and where its streams go. */
export interface SimpleCommand {
  readonly env: Readonly<Record<string, string>>;
  readonly words: readonly string[];
  readonly stdinFile: string | null;
  readonly stdoutFile: string | null;
  readonly stderrFile: string | null;
}

interface Token {
  readonly kind: 'word' | 'operator';
  readonly text: string;
}

const OPERATORS = ['2>', '<', '>', '|'];

/**
 * Splits a line as the plainest common part of POSIX shells and PowerShell would: blanks between
 * words, single and double quotes, a backslash before a special character, `<`, `>`, `2>`, `|` and
 * a comment from a `#` at the start of a word. Variables, globs, `&&` and substitutions throw: a
 * line of documentation that needs them is too clever.
 */
export function parseCommandLine(line: string): readonly SimpleCommand[] {
  const pipeline: Token[][] = [[]];
  for (const token of tokens(line)) {
    if (token.kind === 'operator' && token.text === '|') pipeline.push([]);
    else pipeline.at(-1)?.push(token);
  }
  return pipeline.map((part) => simpleCommand(part, line));
}

function simpleCommand(part: readonly Token[], line: string): SimpleCommand {
  const env: Record<string, string> = {};
  const words: string[] = [];
  const files: Record<string, string> = {};
  for (let i = 0; i < part.length; i += 1) {
    const token = part[i]!;
    const assignment = /^([A-Z_]+)=(.*)$/s.exec(token.text);
    if (token.kind === 'operator') {
      i += 1;
      const target = part[i];
      if (target?.kind !== 'word') throw new Error(`no file after ${token.text} in: ${line}`);
      files[token.text] = target.text;
    } else if (words.length === 0 && assignment !== null) env[assignment[1]!] = assignment[2]!;
    else words.push(token.text);
  }
  if (words.length === 0) throw new Error(`no command in: ${line}`);
  return { env, words, stdinFile: files['<'] ?? null, stdoutFile: files['>'] ?? null, stderrFile: files['2>'] ?? null };
}

function tokens(line: string): readonly Token[] {
  const found: Token[] = [];
  let at = 0;
  while (at < line.length) {
    const rest = line.slice(at);
    const blank = /^\s+/.exec(rest);
    const operator = OPERATORS.find((candidate) => rest.startsWith(candidate));
    if (blank !== null) at += blank[0].length;
    else if (rest.startsWith('#')) break;
    else if (operator !== undefined) {
      if (rest.startsWith('>>') || rest.startsWith('||') || rest.startsWith('<<'))
        throw new Error(`unsupported operator in: ${line}`);
      found.push({ kind: 'operator', text: operator });
      at += operator.length;
    } else {
      const { text, length } = word(rest, line);
      found.push({ kind: 'word', text });
      at += length;
    }
  }
  return found;
}

function word(rest: string, line: string): { text: string; length: number } {
  let text = '';
  let at = 0;
  while (at < rest.length) {
    const c = rest.charAt(at);
    if (/[\s<>|]/.test(c)) break;
    if (c === "'" || c === '"') {
      const end = closingQuote(rest, at, line);
      text += c === "'" ? rest.slice(at + 1, end) : rest.slice(at + 1, end).replaceAll(/\\(["\\$`])/g, '$1');
      at = end + 1;
    } else if (c === '\\' && at + 1 < rest.length) {
      text += rest.charAt(at + 1);
      at += 2;
    } else if (/[$`;&*?(){}~]/.test(c)) throw new Error(`unsupported character ${c} in: ${line}`);
    else {
      text += c;
      at += 1;
    }
  }
  return { text, length: at };
}

function closingQuote(text: string, open: number, line: string): number {
  const quote = text.charAt(open);
  for (let i = open + 1; i < text.length; i += 1) {
    if (quote === '"' && text.charAt(i) === '\\') i += 1;
    else if (text.charAt(i) === quote) return i;
  }
  throw new Error(`unclosed quote in: ${line}`);
}
