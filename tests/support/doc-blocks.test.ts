import { describe, expect, it } from 'vitest';
import { parseCommandLine } from './command-line.js';
import { docBlocks, docCommands, matchesShown } from './doc-blocks.js';

describe('docBlocks', () => {
  it('reads language, exit code and line of a fenced block', () => {
    const [block] = docBlocks('p.md', 'text\n\n```sh exit=1\npegbook a\n```\n');
    expect(block).toEqual({
      page: 'p.md',
      line: 3,
      language: 'sh',
      exit: 1,
      file: null,
      info: 'sh exit=1',
      text: 'pegbook a',
    });
  });
  it('reads the file that a block shows', () => {
    expect(docBlocks('p.md', '```bash file=a/b.sh\nx\n```')[0]).toMatchObject({ language: 'bash', file: 'a/b.sh' });
  });
  it('refuses a fence that is not closed', () => {
    expect(() => docBlocks('p.md', '```sh\npegbook a\n')).toThrow('p.md:1');
  });
  it('takes the indent of a fence inside a list off its lines', () => {
    expect(docBlocks('p.md', '- a\n  ```text\n  x\n    y\n  ```\n')[0]?.text).toBe('x\n  y');
  });
});

describe('docCommands', () => {
  it('expects the stated exit code of the last command only', () => {
    const [block] = docBlocks('p.md', '```sh exit=3\npegbook a \\\n  --b\n# why\npegbook c\n```');
    expect(docCommands(block!)).toEqual([
      { line: 'pegbook a  --b', output: null, exit: 0 },
      { line: 'pegbook c', output: null, exit: 3 },
    ]);
  });
  it('separates commands from output in a console block', () => {
    const [block] = docBlocks('p.md', '```console\n$ pegbook a\none\ntwo\n$ pegbook b\n```');
    expect(docCommands(block!)).toEqual([
      { line: 'pegbook a', output: 'one\ntwo\n', exit: 0 },
      { line: 'pegbook b', output: '', exit: 0 },
    ]);
  });
});

describe('matchesShown', () => {
  it('lets three dots on a line stand for any lines, and nothing else', () => {
    expect(matchesShown('a\nb\nc\nd\n', 'a\n...\nd\n')).toBe(true);
    expect(matchesShown('a\nb\nc\nd\n', 'a\n...\n')).toBe(true);
    expect(matchesShown('a\nb\nc\nd\n', 'a\n...\nc\n')).toBe(false);
    expect(matchesShown('a\nb\n', 'b\n...\n')).toBe(false);
    expect(matchesShown('a\nb\n', 'a\n')).toBe(false);
  });
});

describe('parseCommandLine', () => {
  it('reads quotes, redirections, pipes, settings of the environment and comments', () => {
    expect(
      parseCommandLine(`NO_COLOR=1 pegbook x --at "1,2" '25° 4' < in.csv 2> err.txt | head -n 2 > out # why`),
    ).toEqual([
      {
        env: { NO_COLOR: '1' },
        words: ['pegbook', 'x', '--at', '1,2', '25° 4'],
        stdinFile: 'in.csv',
        stdoutFile: null,
        stderrFile: 'err.txt',
      },
      { env: {}, words: ['head', '-n', '2'], stdinFile: null, stdoutFile: 'out', stderrFile: null },
    ]);
  });
  it('refuses what differs between shells', () => {
    for (const line of ['pegbook *.csv', 'pegbook $X', 'a && b', 'a; b', 'a >> b', 'pegbook "a'])
      expect(() => parseCommandLine(line), line).toThrow();
  });
});
