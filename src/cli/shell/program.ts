import { Argument, Command, Help, InvalidArgumentError, Option } from 'commander';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { largestOf } from '../../core/numeric/extremes.js';
import type { CommandSpec, Invocation, OptionSpec, OptionValue } from './command-spec.js';
import type { Context } from './context.js';
import { HELP_TOPICS } from './help/help-topics.js';
import { makeHelpCommand } from './help/help-command.js';
import { exampleLines, HELP_WIDTH, screenHelp } from './help/help-screen.js';
import { adjustNetworkSpec } from '../commands/adjust-network/spec.js';
import { checkTolerancesSpec } from '../commands/check-tolerances/spec.js';
import { compareRunsSpec } from '../commands/compare-runs/spec.js';
import { deliverSpec } from '../commands/deliver/spec.js';
import { designGridSpec } from '../commands/design-grid/spec.js';
import { describeSystemSpec } from '../commands/describe-system/spec.js';
import { completionSpec } from '../commands/completion/spec.js';
import { draftSessionSpec } from '../commands/draft-session/spec.js';
import { findSystemSpec } from '../commands/find-system/spec.js';
import { fitSiteSpec } from '../commands/fit-site/spec.js';
import { inspectCorrectionsSpec } from '../commands/inspect-corrections/spec.js';
import { joinPointsSpec } from '../commands/join-points/spec.js';
import { listRunsSpec } from '../commands/list-runs/spec.js';
import { mergeRecordsSpec } from '../commands/merge-records/spec.js';
import { planBaselineSpec } from '../commands/plan-baseline/spec.js';
import { planSkySpec } from '../commands/plan-sky/spec.js';
import { reducePointsSpec } from '../commands/reduce-points/spec.js';
import { transformSpec } from '../commands/transform/spec.js';
import { verifyJobSpec } from '../commands/verify-job/spec.js';
import { VERSION } from '../../records/runs/version.js';
import { clippedText, visibleText } from './messages/visible-text.js';

/** Every command, in the order of `pegbook --help`. */
export const COMMANDS: readonly CommandSpec[] = [
  reducePointsSpec,
  inspectCorrectionsSpec,
  checkTolerancesSpec,
  adjustNetworkSpec,
  transformSpec,
  planBaselineSpec,
  planSkySpec,
  designGridSpec,
  joinPointsSpec,
  fitSiteSpec,
  deliverSpec,
  verifyJobSpec,
  listRunsSpec,
  compareRunsSpec,
  mergeRecordsSpec,
  draftSessionSpec,
  findSystemSpec,
  describeSystemSpec,
  completionSpec,
];

/**
 * The commander tree. Commander knows nothing of what a command does: it turns words into an
 * `Invocation`, and `dispatch` gets the specification and that. `first`: the first word, where it is known; one that names a command needs
 * that alone, and to make all others with their options takes longer than a small reduction.
 */
export function createProgram(
  context: Context,
  dispatch: (spec: CommandSpec, invocation: Invocation) => Promise<void>,
  first: string | null = null,
): Command {
  const program = new Command('pegbook');
  configure(program, context);
  program
    .description(
      'Turn a day of raw satellite fixes from your own base into grid coordinates and heights you can defend.',
    )
    .version(VERSION, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print help')
    .helpCommand(false)
    .addHelpText('after', () => topicList());
  const full = { isAsked: false };
  const asked = COMMANDS.find(({ name }) => name === first);
  if (asked !== undefined) return program.addCommand(commandOf(asked, context, dispatch, full));
  for (const spec of COMMANDS) program.addCommand(commandOf(spec, context, dispatch, full));
  for (const topic of HELP_TOPICS) {
    const command = new Command(topic.name).description(topic.summary).helpOption(false);
    configure(command, context);
    command.action(() => {
      context.stdout.write(`${topic.text()}\n`);
    });
    command.configureHelp({ formatHelp: () => `${topic.text()}\n` });
    program.addCommand(command, { hidden: true });
  }
  const help = new Command('help');
  configure(help, context);
  makeHelpCommand(help, program, context, (command, isFull) => {
    full.isAsked = isFull;
    command.outputHelp();
  });
  program.addCommand(help);
  return program;
}

function configure(command: Command, context: Context): void {
  command
    .exitOverride()
    .showSuggestionAfterError(true)
    .allowExcessArguments(false)
    .configureOutput({
      writeOut: (text) => context.stdout.write(text),
      writeErr: (text) => context.stderr.write(text),
      outputError: (text, write) => {
        write(
          `pegbook: ${text
            .replace(/^error: /u, '')
            .trimEnd()
            .split('\n')
            .map((line) => visibleText(clippedText(line)))
            .join('\n')} [usage-invalid]\n`,
        );
      },
      // The same help on every terminal and in every pipe.
      getOutHelpWidth: () => HELP_WIDTH,
      getErrHelpWidth: () => HELP_WIDTH,
    });
}

function commandOf(
  spec: CommandSpec,
  context: Context,
  dispatch: (spec: CommandSpec, invocation: Invocation) => Promise<void>,
  full: { readonly isAsked: boolean },
): Command {
  const command = new Command(spec.name).summary(spec.summary).description(spec.description.join(' '));
  configure(command, context);
  command.helpOption('-h, --help', 'print help');
  for (const { name, description, choices } of spec.arguments) {
    const argument = new Argument(isForMany(spec) ? name.replace(/^<(.+)>$/u, '[$1]') : name, description);
    command.addArgument(choices === undefined ? argument : argument.choices([...choices]));
  }
  for (const option of spec.options)
    command.addOption(option.kind === 'list' || option.kind === 'flag' ? optionOf(option) : once(optionOf(option)));
  command.configureHelp({
    formatHelp: (own, helper) => (full.isAsked ? fullHelp(spec, own, helper) : screenHelp(spec)),
  });
  command.action(async (...words: unknown[]) => {
    const options = command.opts<Record<string, OptionValue>>();
    const args = words
      .slice(0, -2)
      .flatMap((word) => (Array.isArray(word) ? word.map(String) : typeof word === 'string' ? [word] : []));
    // Asked here, since a manifest names the inputs itself.
    const needed = spec.arguments[args.length]?.name.replaceAll(/[<>.]/gu, '');
    if (spec.arguments[args.length]?.name.startsWith('<') === true && options['manifest'] === undefined)
      command.error(`error: missing required argument '${String(needed)}'`);
    await dispatch(spec, { args, options });
  });
  return command;
}

/** Whether a command runs the entries of a manifest. */
function isForMany({ options }: CommandSpec): boolean {
  return options.some(({ flags }) => flags.startsWith('--manifest '));
}

/** Every option in full, as the library lays it out, between the examples and the cautions. */
function fullHelp(spec: CommandSpec, command: Command, helper: Help): string {
  // Most commands need none.
  const cautions = (spec.cautions ?? []).map((line) => `  ${line}`);
  return `${exampleLines(spec).join('\n')}\n\n${Help.prototype.formatHelp.call(helper, command, helper)}${cautions.length === 0 ? '' : `\nCautions:\n${cautions.join('\n')}\n`}`;
}

function optionOf(spec: OptionSpec): Option {
  const text = spec.defaultText === undefined ? spec.description : `${spec.description} (default: ${spec.defaultText})`;
  const option = Object.assign(new Option(spec.flags, text), { suggests: spec.suggests });
  if (spec.choices !== undefined) option.choices([...spec.choices]);
  if (spec.group !== undefined) option.helpGroup(`${spec.group}:`);
  switch (spec.kind ?? 'text') {
    case 'number':
      return option.argParser((value: string) => numberFrom(value));
    case 'count':
      return option.argParser((value: string) => countFrom(value));
    case 'list':
      // The first of several has none before it.
      return option.argParser((value: string, previous: readonly string[] | undefined) => [...(previous ?? []), value]);
    default:
      return option;
  }
}

/** An option that is no list may stand once: of two, a parser keeps the last and says nothing. */
function once(option: Option): Option {
  const { parseArg } = option;
  const parser = (value: string, previous: unknown): unknown => {
    if (previous !== undefined) throw new InvalidArgumentError('It is given twice: give it once.');
    return parseArg === undefined ? value : (parseArg as (text: string, before: unknown) => unknown)(value, undefined);
  };
  return option.argParser(parser as (value: string) => string);
}

function numberFrom(text: string): number {
  const value = parseDecimal(text);
  if (value === null) throw new InvalidArgumentError('It must be a decimal number, such as 2.05.');
  return value;
}

function countFrom(text: string): number {
  const value = parseDecimal(text);
  if (value === null || !Number.isInteger(value) || value < 0)
    throw new InvalidArgumentError('It must be a whole number, 0 or more.');
  return value;
}

function topicList(): string {
  const width = largestOf(HELP_TOPICS.map((topic) => topic.name.length)) + 2;
  return `\nTopics (pegbook help TOPIC; pegbook help CODE explains one problem code):\n${HELP_TOPICS.map((topic) => `  ${topic.name.padEnd(width)}${topic.summary}`).join('\n')}\n`;
}
