/** A fenced block of a Markdown page. */
export interface DocBlock {
  readonly page: string;
  /** Line of the opening fence, from 1. */
  readonly line: number;
  /** First word of the info string; empty when there is none. */
  readonly language: string;
  /** Exit code that the block's last command must end with: `exit=1` in the info string, else 0. */
  readonly exit: number;
  /** File that the block shows whole: `file=path` in the info string. It is compared, not run. */
  readonly file: string | null;
  /** Everything after the fence. */
  readonly info: string;
  readonly text: string;
}

/** One command of a block; `output` is null where the block does not show it. */
export interface DocCommand {
  readonly line: string;
  readonly output: string | null;
  /** Expected exit code. */
  readonly exit: number;
}

/** Languages whose blocks are run. */
export const EXECUTED: readonly string[] = ['sh', 'console'];

/** Languages of blocks that are only shown. */
export const SHOWN: readonly string[] = ['text', 'csv', 'toml', 'json', 'geojson', 'html', 'ts', 'js', 'bash', 'yaml'];

/** Every fenced block of a page; an unclosed fence throws. */
export function docBlocks(page: string, markdown: string): readonly DocBlock[] {
  const found: DocBlock[] = [];
  let open: { fence: string; indent: string; info: string; line: number; body: string[] } | null = null;
  for (const [index, line] of markdown.split(/\r?\n/).entries()) {
    const fence = /^(\s*)(`{3,}|~{3,})([^`~].*)?$/.exec(line);
    if (open === null) {
      if (fence !== null)
        open = { indent: fence[1]!, fence: fence[2]!, info: fence[3] ?? '', line: index + 1, body: [] };
    } else if (fence !== null && fence[2]!.startsWith(open.fence) && (fence[3] ?? '').trim() === '') {
      const words = open.info.split(/\s+/).filter((word) => word !== '');
      const exit = words.find((word) => /^exit=\d+$/.test(word));
      found.push({
        page,
        line: open.line,
        language: words[0] ?? '',
        exit: exit === undefined ? 0 : Number(exit.slice('exit='.length)),
        file: words.find((word) => word.startsWith('file='))?.slice('file='.length) ?? null,
        info: open.info.trim(),
        text: open.body.join('\n'),
      });
      open = null;
    } else open.body.push(line.startsWith(open.indent) ? line.slice(open.indent.length) : line.trimStart());
  }
  if (open !== null) throw new Error(`${page}:${open.line}: the fence is not closed`);
  return found;
}

/**
 * The commands of a block. In `console` blocks a line that starts with `$ ` is a command and what
 * follows is its output, where `...` alone on a line stands for any lines. In `sh`
 * blocks every line is a command. A line may go on after `\`.
 */
export function docCommands(block: DocBlock): readonly DocCommand[] {
  const lines = block.text.replaceAll(/\\\n\s*/g, ' ').split('\n');
  const commands = block.language === 'console' ? consoleCommands(lines) : plainCommands(lines);
  const last = commands.at(-1);
  return last === undefined ? [] : [...commands.slice(0, -1), { ...last, exit: block.exit }];
}

function plainCommands(lines: readonly string[]): readonly DocCommand[] {
  return lines
    .map((line) => line.trim())
    .filter((line) => line !== '' && !line.startsWith('#'))
    .map((line) => ({ line, output: null, exit: 0 }));
}

function consoleCommands(lines: readonly string[]): readonly DocCommand[] {
  const found: { line: string; output: string; exit: number }[] = [];
  for (const line of lines) {
    const current = found.at(-1);
    if (line.startsWith('$ ')) found.push({ line: line.slice(2), output: '', exit: 0 });
    else if (current === undefined) throw new Error(`a console block starts with "$ command", not: ${line}`);
    else current.output += `${line}\n`;
  }
  return found;
}

/** True when the text is what the block shows, `...` on a line of its own standing for any lines. */
export function matchesShown(actual: string, shown: string): boolean {
  const parts = shown.split(/^\.\.\.\n/m);
  if (parts.length === 1) return actual.trimEnd() === shown.trimEnd();
  let at = 0;
  for (const [index, part] of parts.entries()) {
    const isLast = index === parts.length - 1;
    const found =
      index === 0
        ? actual.startsWith(part)
          ? 0
          : -1
        : isLast
          ? actual.length - part.length
          : actual.indexOf(part, at);
    if (found < at || !actual.startsWith(part, found)) return false;
    at = found + part.length;
  }
  return true;
}
