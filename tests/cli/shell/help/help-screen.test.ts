import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../../../src/cli/shell/program.js';
import { SHARED_GROUPS } from '../../../../src/cli/shell/shared-options.js';
import { runInProcess } from '../../../support/run-in-process.js';

/** Lines of a terminal as it opens on most systems, and some more for a command of many arguments. */
const SCREEN = 44;

async function help(...words: readonly string[]): Promise<string> {
  const { exit, stdout } = await runInProcess(['help', ...words], { cwd: '.' });
  expect(exit).toBe(0);
  return stdout.toString('utf8');
}

describe('the help of a command', () => {
  it.each(COMMANDS.map((spec) => [spec.name, spec] as const))(
    'of %s fits a screen, two examples first',
    async (_, spec) => {
      const text = await help(spec.name);
      const lines = text.split('\n');
      expect(lines.length, text).toBeLessThanOrEqual(SCREEN);
      expect(lines[0]).toBe('Examples:');
      expect(text).toContain(spec.examples[1]?.command ?? 'two examples');
      // The line of an example may be long: it is to be copied as it stands.
      for (const line of lines.filter((own) => !own.startsWith('  pegbook ')))
        expect(line.length, line).toBeLessThanOrEqual(96);
    },
  );

  it.each(COMMANDS.map((spec) => [spec.name, spec] as const))(
    'of %s names every option, or the topic that has it',
    async (_, spec) => {
      const text = await help(spec.name);
      for (const { flags } of spec.options) {
        const long = /--[a-z0-9-]+/u.exec(flags)?.[0] ?? flags;
        const topic = SHARED_GROUPS.find(({ options }) => options.some((option) => option.flags === flags))?.topic;
        const whole = topic !== undefined && new RegExp(`^  ${topic}$`, 'mu').test(text);
        expect(whole || new RegExp(`${long}(?![a-z-])`, 'u').test(text), `${spec.name} ${long}\n${text}`).toBe(true);
      }
    },
  );

  it('prints everything with --all', async () => {
    const text = await help('reduce-points', '--all');
    for (const heading of ['Output and messages:', 'Reading tables:', 'Systems, session and geoid:', 'Cautions:'])
      expect(text).toContain(heading);
    expect(text).toContain('the same for any number');
  });

  it.each(SHARED_GROUPS.map((group) => [group.topic, group] as const))(
    'prints %s once, in full',
    async (topic, group) => {
      const text = (await help(topic)).replaceAll(/\s+/gu, ' ');
      for (const { flags, description } of group.options) {
        expect(text).toContain(flags);
        expect(text).toContain(description);
      }
    },
  );
});
