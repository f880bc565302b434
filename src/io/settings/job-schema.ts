import { SESSION_SCHEMA } from './session-schema.js';
import type { TomlField, TomlSchema } from './toml/toml-schema.js';

/** What a session may say, but for what belongs to its file. */
const SESSION_PARTS: Readonly<Record<string, TomlField>> = Object.fromEntries(
  Object.entries(SESSION_SCHEMA.named).filter(([name]) => name !== 'version' && name !== 'title'),
);

const SESSION_FILE: TomlField = { kind: 'text', meaning: 'a session file', byDefault: 'none' };

const SHARED_FIELDS: Readonly<Record<string, TomlField>> = { session: SESSION_FILE };

const DAY_FIELDS: Readonly<Record<string, TomlField>> = {
  id: {
    kind: 'text',
    isRequired: true,
    meaning: 'name of the day, unique, without a slash; it comes first in `occupation`',
  },
  date: { kind: 'date', meaning: 'the day', byDefault: 'not stated' },
  fixes: { kind: 'list', isRequired: true, meaning: 'files of fixes' },
  occupations: { kind: 'text', meaning: 'names for logs without them, as `--occupations`', byDefault: 'none' },
  session: SESSION_FILE,
};

const SHARED = { kind: 'table', meaning: 'what all days share: this, and every table of a session' } as const;

const DAY = {
  kind: 'tables',
  isRequired: true,
  meaning: 'the days, in their order: this, and every table of a session that holds on the day alone',
} as const;

const REASON: TomlField = {
  kind: 'text',
  isRequired: true,
  meaning: 'why; it stands in the run record and in the page',
};
const EVERY_DAY: TomlField = { kind: 'text', meaning: '`id` of a day', byDefault: 'every day' };

/** The settings of a job file that are its own. */
export const JOB_OWN_SCHEMA: TomlSchema = {
  named: {
    version: { kind: 'number', isWhole: true, isRequired: true, meaning: 'version of this form of file: 1' },
    title: { kind: 'text', meaning: 'a name for reports', byDefault: 'none' },
    shared: { ...SHARED, fields: { named: SHARED_FIELDS } },
    day: { ...DAY, fields: { named: DAY_FIELDS } },
    exclude: {
      kind: 'tables',
      meaning: 'occupations left out of every result',
      fields: {
        named: {
          point: { kind: 'text', isRequired: true, meaning: '`point_id`, as it stands in the output' },
          day: EVERY_DAY,
          occupation: { kind: 'text', meaning: 'its number on its day', byDefault: 'all of them' },
          reason: REASON,
        },
      },
    },
    rename: {
      kind: 'tables',
      meaning: 'points that were keyed in under a wrong name',
      fields: {
        named: {
          from: { kind: 'text', isRequired: true, meaning: '`point_id` in the fixes' },
          to: { kind: 'text', isRequired: true, meaning: '`point_id` that it should have been' },
          day: EVERY_DAY,
          reason: REASON,
        },
      },
    },
    files: {
      kind: 'table',
      meaning: 'what the commands take where their own option is not given',
      fields: {
        named: {
          control: { kind: 'text', meaning: 'control, for `--control`', byDefault: 'none' },
          design: { kind: 'text', meaning: 'design, for `--design`', byDefault: 'none' },
          limits: { kind: 'text', meaning: 'limits, for `--limits`', byDefault: 'none' },
        },
      },
    },
    people: {
      kind: 'table',
      meaning: 'free text for pages and the front sheet',
      fields: {
        named: {
          client: { kind: 'text', meaning: 'who the work is for', byDefault: 'none' },
          surveyor: { kind: 'text', meaning: 'who answers for it', byDefault: 'none' },
        },
      },
    },
  },
};

/** Every setting of a job file. */
export const JOB_SCHEMA: TomlSchema = {
  named: {
    ...JOB_OWN_SCHEMA.named,
    shared: { ...SHARED, fields: { named: { ...SHARED_FIELDS, ...SESSION_PARTS } } },
    day: { ...DAY, fields: { named: { ...DAY_FIELDS, ...SESSION_PARTS } } },
  },
};
