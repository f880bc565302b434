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
} as const;
