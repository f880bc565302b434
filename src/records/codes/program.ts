/** Problem codes: program. */
export const programCodes = {
  'internal-error': { exit: 70, meaning: 'the program met a state that cannot happen', fix: 'report it with the command and its input' },
  'interrupted': { exit: 130, meaning: 'the run was interrupted; no output was committed', fix: 'run again' },
} as const;
