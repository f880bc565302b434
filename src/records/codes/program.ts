/** Problem codes: program. */
export const programCodes = {
  'report-failed': {
    exit: 70,
    meaning: 'the page of --report could not be drawn; every other output is in place',
    fix: 'report it with the command and its input; the data do not depend on it',
  },
  'internal-error': {
    exit: 70,
    meaning: 'the program met a state that cannot happen',
    fix: 'report it with the command and its input',
  },
  interrupted: { exit: 130, meaning: 'the run was interrupted; no output was committed', fix: 'run again' },
} as const;
