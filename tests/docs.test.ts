import { cpSync, existsSync, mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { COMMANDS } from '../src/cli/shell/program.js';
import { EXECUTED, SHOWN, docBlocks, docCommands, matchesShown } from './support/doc-blocks.js';
import type { DocBlock, DocCommand } from './support/doc-blocks.js';
import { canRunScripts, runInShell } from './support/shell.js';
import { openTerminal } from './support/run-command-line.js';
import type { Terminal } from './support/run-command-line.js';

// Every fenced block marked sh or console in README.md, DEVELOPERS.md, CHANGELOG.md,
// docs and the examples' pages is run, page by page and in order, in a folder that holds a copy of
// examples/ and nothing else; so are the examples that open each command's help. A command that
// ends with another exit code than 0 stands last in a block that says so: ```sh exit=1
// `node examples/...` runs that generator. A block that says file=path is that file, letter for letter. A command that begins with bash or
// with node examples/pipeline is run by bash where it is there, with pegbook on the path.
const ROOT = fileURLToPath(new URL('..', import.meta.url));
const scratch = mkdtempSync(join(tmpdir(), 'pegbook-docs-'));

afterAll(() => {
  rmSync(scratch, { recursive: true, force: true });
});

function pages(): readonly string[] {
  const under = ['docs', 'examples'].flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' }).map(
      (name) => `${folder}/${name.replaceAll('\\', '/')}`,
    ),
  );
  return ['README.md', 'DEVELOPERS.md', 'CHANGELOG.md', ...under]
    .filter((name) => name.endsWith('.md') && existsSync(join(ROOT, name)))
    .sort();
}

function terminal(): Terminal {
  const folder = mkdtempSync(join(scratch, 'page-'));
  cpSync(join(ROOT, 'examples'), join(folder, 'examples'), { recursive: true });
  return openTerminal(folder);
}

async function check(command: DocCommand, at: Terminal, where: string): Promise<void> {
  if (isToolCommand(command.line)) {
    expect(
      command.line.split(' && ').every(toolCommandIsKnown),
      `${where}: "${command.line}" stands in .ci/run or is a script of package.json`,
    ).toBe(true);
    return;
  }
  const result = await at.run(command.line);
  const output = `${result.stdout.toString('utf8')}${result.stderr}`;
  expect(result.exit, `${where}: exit code of: ${command.line}\n${output}`).toBe(command.exit);
  if (command.output !== null && !matchesShown(output, command.output))
    expect(output, `${where}: output of: ${command.line}`).toBe(command.output);
}

// Installing and developing is done by the tools below; their lines are not run again here, but each
// is one that continuous integration runs, so that it cannot go stale.
const TOOLS = /^(?:npm|npx|git|node(?! examples\/)) /;

function isToolCommand(line: string): boolean {
  return TOOLS.test(line);
}

function toolCommandIsKnown(line: string): boolean {
  const integration = readFileSync(join(ROOT, '.ci', 'run'), 'utf8')
    .split('\n')
    .map((text) => text.trim());
  const manifest = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { scripts: Record<string, string> };
  const script = /^npm run ([\w:]+)$/.exec(line)?.[1];
  const test = /^npx vitest run (\S+)$/.exec(line)?.[1];
  if (script !== undefined) return script in manifest.scripts;
  if (test !== undefined) return existsSync(join(ROOT, test));
  return integration.includes(line);
}

/** The shell that a block needs; null: the terminal of these tests does. */
function shellOf(block: DocBlock): 'bash' | null {
  const lines = docCommands(block).map(({ line }) => line);
  return lines.some((line) => line.startsWith('bash ') || line.startsWith('node examples/pipeline/')) ? 'bash' : null;
}

for (const page of pages()) {
  const blocks = docBlocks(page, readFileSync(join(ROOT, page), 'utf8'));
  const executed = blocks.filter((block) => EXECUTED.includes(block.language) && block.file === null);
  describe(page, () => {
    it('says in every fence what the block holds', () => {
      const unknown = blocks.filter((block) => ![...EXECUTED, ...SHOWN].includes(block.language));
      expect(unknown.map((block) => `${page}:${block.line} "${block.language}"`)).toEqual([]);
    });
    it('shows files as they are', () => {
      for (const { file, text, line } of blocks)
        if (file !== null) expect(`${text}\n`, `${page}:${line}: ${file}`).toBe(readFileSync(join(ROOT, file), 'utf8'));
    });
    if (executed.length === 0) return;
    it('runs as written', async () => {
      const at = terminal();
      for (const block of executed) {
        if (shellOf(block) !== null) continue;
        for (const command of docCommands(block)) await check(command, at, `${page}:${block.line}`);
      }
    });
    for (const block of executed) {
      const shell = shellOf(block);
      if (shell === null) continue;
      it.skipIf(!canRunScripts(shell))(
        `runs in ${shell}: line ${block.line} (skipped where ${shell} is absent)`,
        () => {
          const { exit, output } = runInShell(terminal().cwd, ['bash', '-c', block.text]);
          expect(exit, output).toBe(block.exit);
        },
        60_000,
      );
    }
  });
}

describe('help examples', () => {
  for (const spec of COMMANDS) {
    it(`of ${spec.name} run as written, and print what they show`, async () => {
      const at = terminal();
      for (const example of spec.examples) {
        const output = example.output === undefined ? null : `${example.output.join('\n')}\n...\n`;
        await check({ line: example.command, output, exit: example.exit ?? 0 }, at, `${spec.name} --help`);
      }
    });
  }
});
