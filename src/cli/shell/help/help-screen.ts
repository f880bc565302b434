import { largestOf } from '../../../core/numeric/extremes.js';
import type { CommandSpec, OptionSpec } from '../command-spec.js';
import { SHARED_GROUPS } from '../shared-options.js';
import { wrapped } from './wrapped.js';

/** Width that every help is written for, on every terminal and in every pipe. */
export const HELP_WIDTH = 96;
/** Examples, and options of its own, that a command's help shows; the full help has all. */
const EXAMPLES_SHOWN = 2;
const OPTIONS_SHOWN = 13;
const NAMES_WIDTH = 34;

/** The help of a command on one screen: two examples, its own options a line each, and where the shared ones stand. */
export function screenHelp(spec: CommandSpec): string {
  const own = ownOptions(spec);
  const shown = own.slice(0, OPTIONS_SHOWN);
  const rest = own.slice(OPTIONS_SHOWN);
  const width = Math.min(NAMES_WIDTH, largestOf([...shown, HELP_OPTION].map(({ flags }) => flags.length)));
  const lines = [
    ...exampleLines(spec, EXAMPLES_SHOWN),
    '',
    `Usage: pegbook ${[spec.name, '[options]', ...spec.arguments.map(({ name }) => name)].join(' ')}`,
    ...wrapped(spec.description.join(' '), HELP_WIDTH),
    ...spec.arguments.map(({ name, description }) => clipped(`  ${name}  ${description}`)),
    '',
    `Options (in full: pegbook help ${spec.name} --all):`,
    ...[...shown, HELP_OPTION].map((option) => clipped(`  ${option.flags.padEnd(width)}  ${described(option)}`)),
    ...(rest.length === 0 ? [] : indented(`and ${rest.map(longName).join(' ')}`)),
    ...sharedLines(spec),
    ...(spec.cautions === undefined ? [] : ['Cautions:', ...spec.cautions.flatMap(indented)]),
  ];
  return `${lines.join('\n')}\n`;
}

/** The options of a command that are not among the shared ones. */
export function ownOptions(spec: CommandSpec): readonly OptionSpec[] {
  return spec.options.filter(({ group }) => group === undefined);
}

/** The examples that open a command's help; all where no count is given. */
export function exampleLines(spec: CommandSpec, count: number = spec.examples.length): readonly string[] {
  return [
    'Examples:',
    ...spec.examples
      .slice(0, count)
      .flatMap(({ about, command, output = [] }) => [
        `  # ${about}`,
        `  ${command}`,
        ...output.map((line) => `  ${line}`),
      ]),
  ];
}

/** Every option of a shared group in full: `pegbook help output`, `pegbook help tables`, `pegbook help settings`. */
export function sharedHelp(options: readonly OptionSpec[]): string {
  const width = largestOf(options.map(({ flags }) => flags.length)) + 2;
  return options
    .flatMap((option) => {
      const [first = '', ...more] = wrapped(described(option), HELP_WIDTH - width - 2);
      return [`  ${option.flags.padEnd(width)}${first}`, ...more.map((line) => `${' '.repeat(width + 2)}${line}`)];
    })
    .join('\n');
}

const HELP_OPTION: OptionSpec = { flags: '-h, --help', description: 'print help' };

/** Which of the shared options a command has: a group by its topic, and by name where it does not have the whole. */
function sharedLines(spec: CommandSpec): readonly string[] {
  const lines = SHARED_GROUPS.flatMap(({ topic, options }) => {
    const had = options.filter(({ flags }) => spec.options.some((option) => option.flags === flags));
    if (had.length === 0) return [];
    const names = had.length === options.length ? '' : `: ${had.map(longName).join(' ')}`;
    return indented(`${topic}${names}`);
  });
  return lines.length === 0 ? [] : ['Options that many commands share (pegbook help TOPIC):', ...lines];
}

function described({ description, defaultText, choices }: OptionSpec): string {
  const offered =
    choices === undefined || choices.every((word) => description.includes(word)) ? '' : `: ${choices.join(', ')}`;
  return `${description}${offered}${defaultText === undefined ? '' : ` (default: ${defaultText})`}`;
}

function longName({ flags }: OptionSpec): string {
  return /--[a-z0-9-]+/u.exec(flags)?.[0] ?? flags;
}

function indented(text: string): readonly string[] {
  return wrapped(text, HELP_WIDTH - 2).map((line) => `  ${line}`);
}

/** One line; what does not fit ends in dots at a word. */
function clipped(line: string): string {
  if (line.length <= HELP_WIDTH) return line;
  const end = line.lastIndexOf(' ', HELP_WIDTH - 2);
  return `${line.slice(0, end).replace(/[,;:(]$/u, '')} …`;
}
