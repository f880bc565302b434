/** Problem codes: runs listed and compared. */
export const runCodes = {
  'run-point-moved': {
    exit: 1,
    meaning: 'a point moved from one run to the other by more than its uncertainty explains',
    fix: 'see what differs between the runs; reobserve the point where it was observed anew',
  },
  'run-point-appeared': {
    exit: 1,
    meaning: 'a point is in the later run and not in the earlier',
    fix: 'nothing where it was added; else look for a name typed otherwise',
  },
  'run-point-vanished': {
    exit: 1,
    meaning: 'a point is in the earlier run and not in the later',
    fix: 'nothing where it was left out; else look for a name typed otherwise',
  },
  'run-verdict-changed': {
    exit: 1,
    meaning: 'a point has another verdict than in the earlier run',
    fix: 'see the reasons of the point in both runs',
  },
} as const;
