import { spawnSync } from 'node:child_process';
import { Argument, Command, Option } from 'commander';
import { describe, expect, it } from 'vitest';
import { COMPLETION_SHELLS, completionScript } from '../../../../src/cli/shell/help/completion.js';
import type { CompletionShell } from '../../../../src/cli/shell/help/completion.js';
import { COMMANDS } from '../../../../src/cli/shell/program.js';
import { completionModel } from '../../../../src/cli/shell/help/completion/completion-model.js';
import { PLATE_NAMES } from '../../../../src/core/frames/plates/plate-pole.js';
import { STANDARDS } from '../../../../src/core/quality/standards/standards.js';
import { programTree } from '../../../support/program-tree.js';
import { hasProgram } from '../../../support/external-programs.js';

/** Shells warn of a locale that the system does not have, whatever it is. */
const PLAIN = { ...process.env, LC_ALL: 'C' };

// A small program with every kind of option; awkward characters stand in the descriptions.
function sample(): Command {
  const program = new Command('pegbook')
    .version('0', '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print help');
  const reduce = new Command('reduce-points').summary("a day's fixes: [reduced]").argument('<fixes...>', 'files');
  reduce.addOption(new Option('-o, --output <file>', "the file's name"));
  reduce.addOption(new Option('--format <kind>', 'csv or json').choices(['csv', 'json']));
  reduce.addOption(new Option('--pole-length <metres>', 'length: from tip to "ARP"'));
  reduce.addOption(new Option('-q, --quiet', 'say \\ nothing'));
  reduce.addOption(new Option('--secret', 'hidden').hideHelp());
  const completion = new Command('completion')
    .summary('print a script')
    .addArgument(new Argument('<shell>', 'which').choices(['bash', 'zsh']));
  program.addCommand(reduce).addCommand(completion);
  program.addCommand(new Command('units'), { hidden: true });
  return program;
}

/** What bash offers for a line whose last word is being typed. */
function offered(words: readonly string[]): readonly string[] {
  const line = ['pegbook', ...words];
  const script = `${completionScript(sample(), 'bash')}
COMP_WORDS=(${line.map((word) => `'${word}'`).join(' ')})
COMP_CWORD=${line.length - 1}
_pegbook
printf '%s\\n' "\${COMPREPLY[@]}"
`;
  const result = spawnSync('bash', ['--norc', '-c', script], { encoding: 'utf8', env: PLAIN });
  expect(result.stderr).toBe('');
  return result.stdout.split('\n').filter((word) => word !== '');
}

function checkSyntax(shell: string, args: readonly string[], script: string): void {
  const result = spawnSync(shell, [...args], { input: script, encoding: 'utf8', env: PLAIN });
  expect(result.stderr).toBe('');
  expect(result.status).toBe(0);
}

const withBash = it.skipIf(!hasProgram('bash'));

describe('completionScript for bash', () => {
  withBash('is accepted by bash (skipped where bash is absent)', () => {
    checkSyntax('bash', ['-n'], completionScript(sample(), 'bash'));
  });
  withBash('offers the commands and the options of the program first', () => {
    expect(offered([''])).toEqual(['reduce-points', 'completion', 'help', '-V', '--version', '-h', '--help']);
    expect(offered(['red'])).toEqual(['reduce-points']);
  });
  withBash('offers the options of a command after a dash, hidden ones not', () => {
    expect(offered(['reduce-points', '--'])).toEqual(['--output', '--format', '--pole-length', '--quiet', '--help']);
  });
  withBash('offers the words that an option accepts, also after an equals sign', () => {
    expect(offered(['reduce-points', '--format', ''])).toEqual(['csv', 'json']);
    expect(offered(['reduce-points', '--format', 'j'])).toEqual(['json']);
    expect(offered(['reduce-points', '--format', '=', 'c'])).toEqual(['csv']);
    expect(offered(['reduce-points', '--format', '='])).toEqual(['csv', 'json']);
  });
  withBash('leaves files, and values that only the user knows, to the shell', () => {
    expect(offered(['reduce-points', '--output', ''])).toEqual([]);
    expect(offered(['reduce-points', '--pole-length', ''])).toEqual([]);
    expect(offered(['reduce-points', 'day'])).toEqual([]);
  });
  withBash('offers the words of an argument, and every topic and problem code after help', () => {
    expect(offered(['completion', ''])).toEqual(['bash', 'zsh']);
    expect(offered(['help', 'un'])).toEqual(['units']);
    expect(offered(['help', 'usage-o'])).toEqual(['usage-overruled']);
  });
});

describe('completionScript', () => {
  for (const [shell, args] of [
    ['zsh', ['-n']],
    ['fish', ['--no-execute']],
  ] as const) {
    it.skipIf(!hasProgram(shell))(`is accepted by ${shell} (skipped where it is absent)`, () => {
      checkSyntax(shell, args, completionScript(sample(), shell));
    });
  }
  it.skipIf(!hasProgram('pwsh'))('is accepted by PowerShell (skipped where it is absent)', () => {
    const parse =
      '$errors = $null; [void][System.Management.Automation.Language.Parser]::ParseInput([Console]::In.ReadToEnd(), [ref]$null, [ref]$errors); exit $errors.Count';
    checkSyntax('pwsh', ['-NoProfile', '-Command', parse], completionScript(sample(), 'powershell'));
  });
  it('names every visible command and long option in every shell, and no hidden one', () => {
    for (const shell of COMPLETION_SHELLS) {
      const script = completionScript(sample(), shell);
      for (const word of ['reduce-points', 'completion', 'output', 'format', 'pole-length', 'quiet', 'csv', 'json'])
        expect(script, shell).toContain(word);
      expect(script, shell).not.toContain('secret');
    }
  });
  const doubled: Readonly<Record<CompletionShell, string | null>> = {
    bash: null,
    zsh: "'[the file'\\''s name]:value:_files'",
    fish: "-s o -l output -d 'the file\\'s name' -r -F",
    powershell: "'--output' = 'the file''s name'",
  };
  for (const shell of COMPLETION_SHELLS) {
    const expected = doubled[shell];
    if (expected === null) continue;
    it(`keeps a quote inside a description harmless in ${shell}`, () => {
      expect(completionScript(sample(), shell)).toContain(expected);
    });
  }
  it('keeps brackets and colons of a description apart from those of zsh', () => {
    expect(completionScript(sample(), 'zsh')).toContain('\'--pole-length[length\\: from tip to "ARP"]:value: \'');
  });
  it('ends in one line feed and uses no other line end', () => {
    for (const shell of COMPLETION_SHELLS) expect(completionScript(sample(), shell)).toMatch(/[^\n\r]\n$/);
    for (const shell of COMPLETION_SHELLS) expect(completionScript(sample(), shell)).not.toContain('\r');
  });
});

describe('the values of options of the real program', () => {
  const words = (command: string, option: string): readonly string[] => {
    const found = completionModel(programTree())
      .commands.find(({ name }) => name === command)
      ?.options.find(({ long }) => long === option)?.value;
    return found?.kind === 'words' ? found.words : [];
  };

  it('are offered where there is a list of them, also where others may be given', () => {
    expect(words('transform', 'plate')).toEqual(PLATE_NAMES);
    expect(words('check-tolerances', 'standard')).toEqual([...STANDARDS.map(({ id }) => id), 'list']);
    expect(words('draft-session', 'input')).toEqual(['csv', 'nmea', 'geojson']);
  });

  it('are offered of every option that names them', () => {
    const withWords = COMMANDS.flatMap(({ name, options }) =>
      options.flatMap(({ flags, choices, suggests }) => {
        const long = /--(?<long>[a-z-]+)/u.exec(flags)?.groups?.['long'] ?? '';
        const listed = choices ?? suggests;
        return listed === undefined ? [] : [{ name, long, listed }];
      }),
    );
    expect(withWords.length).toBeGreaterThan(20);
    for (const { name, long, listed } of withWords) expect(words(name, long), `${name} --${long}`).toEqual(listed);
  });
});
