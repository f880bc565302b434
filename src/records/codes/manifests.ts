/** Problem codes: manifests of many runs. */
export const manifestCodes = {
  'manifest-column-unknown': {
    exit: 2,
    meaning: 'a manifest has a column that its command does not take',
    fix: 'name it as the option is named, or note; or take it out',
  },
  'manifest-path-twice': {
    exit: 2,
    meaning: 'a file that an entry of a manifest writes is written or read by another entry too',
    fix: 'give each entry files of its own',
  },
  'manifest-entry-failed': {
    exit: 1,
    meaning: 'the last run of an entry of a manifest ended in an error',
    fix: 'mend what it complains of and run the entry again',
  },
  'manifest-entry-changed': {
    exit: 1,
    meaning: 'an input, an option, an output or the program is not what it was when an entry of a manifest was run',
    fix: 'run the entry again; an output that was edited is kept until --force is given',
  },
  'manifest-entry-not-run': {
    exit: 1,
    meaning: 'an entry of a manifest has not been run to its end',
    fix: 'run it',
  },
} as const;
