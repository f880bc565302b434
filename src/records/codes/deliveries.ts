/** Problem codes: the ledger of a job, and what is delivered of it. */
export const deliveryCodes = {
  'file-locked': {
    exit: 4,
    meaning: 'another run holds the ledger of the job all the time',
    fix: 'run again when it has ended',
  },
  'ledger-damaged': {
    exit: 3,
    meaning: 'the last line of a ledger is not whole, so that no line can follow it',
    fix: 'bring the ledger back from a copy, or put it aside and begin another',
  },
  'ledger-line-altered': {
    exit: 1,
    meaning: 'a line of the ledger is not what was written: its digest does not fit, or it cannot be read',
    fix: 'bring the ledger back from a copy; nothing else says what the line was',
  },
  'ledger-line-removed': {
    exit: 1,
    meaning: 'lines are missing from the ledger',
    fix: 'bring the ledger back from a copy',
  },
  'ledger-line-reordered': {
    exit: 1,
    meaning: 'a line of the ledger stands after one that was written later, or stands twice',
    fix: 'bring the ledger back from a copy',
  },
  'ledger-line-replaced': {
    exit: 1,
    meaning: 'a line of the ledger was written after another line than the one that stands before it',
    fix: 'bring the ledger back from a copy',
  },
  'ledger-head-missing': {
    exit: 1,
    meaning:
      'no line of the ledger has the digest that --head names: its last lines were taken off, or it is another ledger',
    fix: 'bring the ledger back from a copy',
  },
  'job-input-changed': {
    exit: 1,
    meaning: 'a file is not what a run read: what that run wrote no longer follows from it',
    fix: 'run the command again, or bring the file back',
  },
  'job-input-missing': { exit: 1, meaning: 'a file that a run read is not there', fix: 'bring the file back' },
  'job-output-changed': {
    exit: 1,
    meaning: 'a file is not what the last run that wrote it wrote',
    fix: 'run the command again with --force, or bring the file back',
  },
  'job-output-missing': {
    exit: 1,
    meaning: 'a file that a run wrote is not there',
    fix: 'run the command again, or bring the file back',
  },
  'delivery-without-points': {
    exit: 1,
    meaning: 'no run of the job wrote points as CSV that are still there, or not the ones asked for',
    fix: 'run reduce-points --job with -o points.csv and --record',
  },
  'delivery-without-record': {
    exit: 1,
    meaning: 'the run that wrote the points left no record, so that nothing says what they rest on',
    fix: 'run reduce-points --job again with --record and --force',
  },
} as const;
