import type { ManifestColumn } from '../../io/tables/manifest-read.js';
import type { CommandSpec, OptionName, OptionSpec } from '../shell/command-spec.js';

/** An option of a command as an entry of a manifest has it. */
export interface EntryOption extends ManifestColumn {
  readonly key: OptionName;
  /** As typed: `--session`. */
  readonly long: string;
  /** Given, it is false: `--no-header`. */
  readonly isNegated: boolean;
  /** A file that the run writes. */
  readonly isWritten: boolean;
  /** A file or a folder that it reads. */
  readonly isRead: boolean;
}

/** Options that say how a run is made and leave its results alone: none of an entry, and no change of one. */
const OF_THE_RUN: ReadonlySet<string> = new Set([
  'force',
  'quiet',
  'verbose',
  'no_color',
  'no_progress',
  'workers',
  'confine',
  'check_only',
  'manifest',
  'index',
  'count',
  'status',
]);
/** What every entry has: where its results go, and what tells that they are done. */
const NEEDED: ReadonlySet<string> = new Set(['output', 'record']);

/** The options that an entry may have, in the order of the command. */
export function entryOptions(spec: CommandSpec): readonly EntryOption[] {
  return spec.options.map(entryOption).filter(({ name }) => !OF_THE_RUN.has(name));
}

/** The column that an argument of a command has: `fixes` of `[fixes...]`; several, with semicolons, where it takes several. */
export function argumentColumn(spec: CommandSpec): ManifestColumn {
  const [argument] = spec.arguments;
  // A command that takes many runs takes an input.
  const typed = argument?.name ?? '';
  return {
    name: typed.replaceAll(/[^a-z_]/gu, ''),
    kind: typed.includes('...') ? 'list' : 'text',
    isNeeded: typed.startsWith('<'),
  };
}

/** An option as a column. */
export function entryOption(option: OptionSpec): EntryOption {
  const { flags, choices } = option;
  // Every option has a long form, which a test of the conventions holds.
  const long = /--[a-z0-9-]+/u.exec(flags)?.[0] ?? flags;
  const name = long.slice(2).replaceAll('-', '_');
  const isNegated = option.kind === 'flag' && name.startsWith('no_');
  const key = (isNegated ? name.slice(3) : name).replaceAll(/_([a-z0-9])/gu, (_, letter: string) =>
    letter.toUpperCase(),
  );
  const isWritten = option.isWritten === true;
  return {
    name,
    key: key as OptionName,
    long,
    kind: option.kind ?? 'text',
    ...(choices !== undefined && { choices }),
    isNeeded: NEEDED.has(name),
    isNegated,
    isWritten,
    isRead: !isWritten && (/<(?:files?|files\.\.\.|folder)>/u.test(flags) || name === 'geoid'),
  };
}
