import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../src/cli/shell/program.js';
import { EXIT_CODES } from '../src/cli/shell/exit-codes.js';
import { CAUSE_TEXTS } from '../src/core/quality/cause/cause-ids.js';
import { PROBLEM_CODES } from '../src/records/codes/problem-codes.js';
import { readReferenceTable } from './support/read-reference-table.js';
import { programTree } from './support/program-tree.js';
import { filesUnder, textOf } from './support/repository-files.js';

const sources = filesUnder('src', '.ts');

describe('the texts of the repository', () => {
  it('hold no mark of a merge that was not finished', () => {
    const texts = [
      'CHANGELOG.md',
      'DEVELOPERS.md',
      'README.md',
      ...['docs', 'src', 'tests'].flatMap((folder) => filesUnder(folder, '')),
    ];
    const ended = texts.filter((path) => /\.(?:css|csv|html|json|jsonl|md|toml|ts|txt)$/u.test(path));
    expect(ended.filter((path) => /^(?:<{7} |>{7} |={7}$)/mu.test(textOf(path)))).toEqual([]);
  });
});

describe('the command tree', () => {
  const options = COMMANDS.flatMap((spec) => spec.options.map((option) => ({ command: spec.name, option })));

  it('names commands and options in kebab words', () => {
    for (const spec of COMMANDS) expect(spec.name).toMatch(/^[a-z]+(?:-[a-z]+)*$/);
    for (const { command, option } of options)
      expect(option.flags, command).toMatch(/^(?:-[a-z], )?--[a-z0-9]+(?:-[a-z0-9]+)*(?: <[^>]+>)?$/);
  });

  it('has two runnable examples or more for every command, each with a line saying what it shows', () => {
    for (const spec of COMMANDS) {
      expect(spec.examples.length, spec.name).toBeGreaterThanOrEqual(2);
      for (const example of spec.examples) {
        expect(example.command, spec.name).toMatch(/^pegbook /);
        expect(example.about.trim(), example.command).not.toBe('');
      }
    }
  });

  it('keeps the file that runs a command to eighty lines: options, one pipeline, what is said', () => {
    const runs = sources.filter((path) => /^src\/cli\/commands\/[a-z-]+\/run\.ts$/u.test(path));
    expect(runs.length).toBe(COMMANDS.length);
    expect(runs.filter((path) => textOf(path).trimEnd().split('\n').length > 80)).toEqual([]);
  });

  it('checks without a run in every command that reads anything', () => {
    const without = COMMANDS.filter(({ options: own }) => !own.some(({ flags }) => flags === '--check-only'));
    expect(without.map(({ name }) => name)).toEqual(['completion']);
  });

  it('describes every command, argument and option, without a full stop at the end of the option', () => {
    for (const spec of COMMANDS) {
      expect(spec.summary.trim(), spec.name).not.toBe('');
      expect(spec.description.join(' ').trim(), spec.name).not.toBe('');
      for (const argument of spec.arguments)
        expect(argument.description.trim(), `${spec.name} ${argument.name}`).not.toBe('');
    }
    for (const { command, option } of options)
      expect(option.description, `${command} ${option.flags}`).toMatch(/\S[^.]$/);
  });

  it('never gives a flag two meanings in one command', () => {
    for (const spec of COMMANDS) {
      const flags = spec.options.flatMap((option) => option.flags.match(/-[a-z0-9-]+/g) ?? []);
      expect(new Set(flags).size, `${spec.name}: ${flags.join(' ')}`).toBe(flags.length);
      for (const taken of ['-h', '--help', '-V', '--version']) expect(flags, spec.name).not.toContain(taken);
    }
  });

  // The interface itself gives these a meaning of their own in join-points: points there, systems in transform; a step-by-step
  // working of one named point, or of the line asked for. Fixes of inspect-corrections are all files of a day; a check counts one.
  const GIVEN_TWICE: Readonly<Record<string, readonly string[]>> = {
    'join-points': ['--from', '--to', '--explain'],
    'inspect-corrections': ['--fixes'],
  };

  it('gives a flag the same form in every command, and a short flag the same long one', () => {
    const byLong = new Map<string, string>();
    const byShort = new Map<string, string>();
    for (const { command, option } of options) {
      const long = /--[a-z0-9-]+/.exec(option.flags)?.[0] ?? '';
      const short = /^-[a-z]/.exec(option.flags)?.[0];
      const form = `${option.flags} ${option.kind ?? 'text'}`;
      if (GIVEN_TWICE[command]?.includes(long) === true) continue;
      expect(byLong.get(long) ?? form, `${command} ${long}`).toBe(form);
      byLong.set(long, form);
      if (short !== undefined) expect(byShort.get(short) ?? long, `${command} ${short}`).toBe(long);
      if (short !== undefined) byShort.set(short, long);
    }
  });

  it('shares the options of output and messages among all commands that write data', () => {
    const shared = ['-o, --output <file>', '--force', '-q, --quiet', '-v, --verbose', '--no-color'];
    for (const spec of COMMANDS) {
      const flags = spec.options.map((option) => option.flags);
      if (flags.some((flag) => flag.includes('--output')))
        expect(flags, spec.name).toEqual(expect.arrayContaining(shared));
    }
  });

  it('keeps the same words for a choice wherever the option appears', () => {
    const seen = new Map<string, string>();
    for (const { command, option } of options.filter((entry) => entry.option.choices !== undefined)) {
      const words = option.choices?.join(' ') ?? '';
      expect(words, `${command} ${option.flags}`).not.toBe('');
      expect(seen.get(option.flags) ?? words, `${command} ${option.flags}`).toBe(words);
      seen.set(option.flags, words);
    }
  });

  it('reaches commander whole: every specified option is one of the parsed command, and no other', () => {
    const tree = programTree();
    for (const spec of COMMANDS) {
      const command = tree.commands.find((candidate) => candidate.name() === spec.name);
      expect(command?.options.map((option) => option.flags).sort(), spec.name).toEqual(
        spec.options.map((option) => option.flags).sort(),
      );
    }
  });
});

describe('problem codes', () => {
  const code = sources
    .filter((path) => !path.startsWith('src/records/codes/'))
    .map(textOf)
    .join('\n');

  it('are all used somewhere', () => {
    const unused = Object.keys(PROBLEM_CODES).filter(
      (name) => !code.includes(`'${name}'`) && !code.includes(`[${name}]`),
    );
    expect(unused).toEqual([]);
  });

  it('are kebab words that begin with their family, with a meaning and a mend', () => {
    for (const [name, entry] of Object.entries(PROBLEM_CODES)) {
      expect(name).toMatch(/^[a-z]+(?:-[a-z0-9]+)+$|^interrupted$/);
      expect(entry.meaning, name).toMatch(/^[^A-Z\s].*[^.]$|^[A-Z]{2}/);
      expect(entry.fix.trim(), name).not.toBe('');
    }
  });

  it('lead to an exit code that is in the table printed to people', () => {
    const known = Object.values(EXIT_CODES).map((entry) => entry.code as number);
    for (const [name, entry] of Object.entries(PROBLEM_CODES)) expect(known, name).toContain(entry.exit);
  });

  it('named in brackets in the documentation exist', () => {
    const families = [...new Set(Object.keys(PROBLEM_CODES).map((name) => name.split('-')[0]))].join('|');
    const named = new RegExp(`\\[((?:${families})(?:-[a-z0-9]+)+)\\](?!\\()`, 'g');
    for (const page of ['README.md', 'DEVELOPERS.md', ...filesUnder('docs', '.md')]) {
      let text = '';
      try {
        text = textOf(page);
      } catch {
        continue; // not written yet
      }
      for (const match of text.matchAll(named))
        expect([...Object.keys(PROBLEM_CODES), ...Object.keys(CAUSE_TEXTS)], page).toContain(match[1]);
    }
  });
});

/** Tables of data, which are as long as what they list; eslint.config.js names them too. */
const TABLES = /\/(?:operation-table-[a-z]+|session-schema|point-columns)\.ts$/u;

describe('sources of what is printed', () => {
  const keys = new Set([...textOf('docs/references.md').matchAll(/^- \*\*([^*]+)\*\* — /gmu)].map(([, key]) => key));
  /** `source: '…'` of worked steps and `key: '…'` of methods, with the file each stands in. */
  const cited = sources.flatMap((path) =>
    [...textOf(path).matchAll(/\b(?:source|key): (?:'([^']*)'|`([^`]*)`)/gu)].map(([, plain, made]) => ({
      path,
      text: plain ?? made ?? '',
    })),
  );

  it('have their key in docs/references.md', () => {
    const found = cited.flatMap(({ path, text }) =>
      (text.match(/\b[A-Z][A-Z0-9]+(?:-[A-Z0-9]+)*-\d[A-Z0-9.]*(?:-\d+)*\b/gu) ?? []).map((key) => ({ path, key })),
    );
    expect(found.length).toBeGreaterThan(20);
    expect(found.filter(({ key }) => !keys.has(key))).toEqual([]);
  });

  it('are pages that exist', () => {
    const pages = cited.flatMap(({ text }) => text.match(/docs\/[a-z/-]+\.md/gu) ?? []);
    const written = new Set(filesUnder('docs', '.md'));
    expect(pages.length).toBeGreaterThan(15);
    expect(pages.filter((page) => !written.has(page))).toEqual([]);
  });
});

describe('source files', () => {
  it('hold one idea: at most 250 lines that are neither blank nor comment', () => {
    const long = sources.filter(
      (path) =>
        !TABLES.test(path) &&
        textOf(path)
          .split('\n')
          .filter((line) => !/^\s*(?:$|\/\/|\/?\*)/.test(line)).length > 250,
    );
    expect(long).toEqual([]);
  });

  it('are named in kebab words, and index.ts is only the public surface', () => {
    for (const path of sources)
      expect(path).toMatch(/^src\/(?:[a-z0-9]+(?:-[a-z0-9]+)*\/)*[a-z0-9]+(?:-[a-z0-9]+)*\.ts$/);
    expect(sources.filter((path) => path.endsWith('/index.ts') && path !== 'src/index.ts')).toEqual([]);
  });

  it('switch a rule off only with the reason on the same line', () => {
    const bare = [...sources, ...filesUnder('tests', '.ts')].flatMap((path) =>
      textOf(path)
        .split('\n')
        .filter(
          (line) =>
            /^\s*(?:\/\/|\/\*)\s*(?:eslint-disable|@ts-(?:ignore|expect-error|nocheck))/.test(line) &&
            !/ -- \S/.test(line),
        )
        .map((line) => `${path}: ${line.trim()}`),
    );
    expect(bare).toEqual([]);
  });
});

describe('method pages', () => {
  const cases = new Map<string, string>();
  for (const path of filesUnder('tests/reference', '.csv')) {
    const topic = path.slice('tests/reference/'.length, -'.csv'.length);
    for (const row of readReferenceTable(topic)) cases.set(row.case, topic);
  }

  const pages = filesUnder('docs/methods', '.md');

  it('exist', () => {
    expect(pages).not.toHaveLength(0);
  });

  for (const page of pages) {
    describe(page, () => {
      const text = textOf(page);
      it('has a table of facts before its first section of text', () => {
        const [opening = '', ...sections] = text.split(/^## /m);
        const facts = [opening, ...sections.filter((section) => /^facts/i.test(section))].join('\n');
        expect(facts).toMatch(/^\|.*\|\s*\n\|[\s:|-]+\|\s*\n\|/m);
      });
      it('has a worked example that names a row of a reference table', () => {
        const worked = text
          .split(/^#+ /m)
          .filter((section) => /^worked example/i.test(section))
          .join('\n');
        const quoted = [...worked.matchAll(/`([^`\n]+)`/g)].map((match) => match[1] ?? '');
        const named = quoted.filter((name) => {
          // `normal 20 km …` names the rows that begin so.
          const start = name.replace(/…$/, '').trim();
          return cases.has(name) || (start !== name && [...cases.keys()].some((row) => row.startsWith(start)));
        });
        expect(named, `quoted in the worked example: ${quoted.join(', ')}`).not.toHaveLength(0);
      });
      it('names its sources by keys of docs/references.md, or says that there is none', () => {
        if (text.includes('common practice, no published source')) return;
        const keys = new Set(
          [...textOf('docs/references.md').matchAll(/^- \*\*([^*]+)\*\* — /gm)].map((match) => match[1]),
        );
        const words = text.match(/[A-Z][A-Za-z0-9-]+/g) ?? [];
        expect(words.filter((word) => keys.has(word))).not.toHaveLength(0);
      });
    });
  }
});

describe('pages', () => {
  it('hold no marks of a merge that was left half done', () => {
    const pages = [
      'README.md',
      'CHANGELOG.md',
      'DEVELOPERS.md',
      ...filesUnder('docs', '.md'),
      ...filesUnder('examples', '.md'),
    ];
    expect(pages.filter((path) => /^(?:<{7}|>{7}) |^={7}$/mu.test(textOf(path)))).toEqual([]);
  });
});
