/** Problem codes: usage and settings. */
export const usageCodes = {
  'usage-invalid': { exit: 2, meaning: 'the command line cannot be understood', fix: 'see the help of the command' },
  'usage-conflict': {
    exit: 2,
    meaning: 'two options exclude each other, or one needs another',
    fix: 'give only one of them, or the missing one',
  },
  'usage-overruled': {
    exit: 2,
    meaning: 'an option holds only where a row gives no value of its own, and the rows of the file give one',
    fix: 'leave the option out, or take the column out of the file',
  },
  'config-syntax': { exit: 2, meaning: 'a settings file is not valid TOML or JSON', fix: 'mend the line named' },
  'config-unknown-key': {
    exit: 2,
    meaning: 'a settings file has a key that does not exist',
    fix: 'use the nearest name suggested, or delete the key',
  },
  'config-unanswered': {
    exit: 2,
    meaning: 'a drafted settings file still asks something: a value is "?"',
    fix: 'write the answer in place of the "?"; the comments beside it say what is asked',
  },
  'config-invalid-value': {
    exit: 2,
    meaning: 'a setting has the wrong type or is outside its range',
    fix: 'give a value of the kind named',
  },
  'config-missing': {
    exit: 2,
    meaning: 'a setting that this run needs is not given',
    fix: 'add it to the session file or the command line',
  },
  'config-unstated': {
    exit: 2,
    meaning: 'something the uncertainty depends on is not stated; it is left out and that is said',
    fix: 'state it in the session file',
  },
  'config-version': {
    exit: 2,
    meaning: 'the settings file is of a version this program does not read',
    fix: 'use a program version that reads it',
  },
  'base-known-disputed': {
    exit: 3,
    meaning: 'a base is known by a point of an earlier day whose occupations disagree',
    fix: 'leave the wrong occupation out with [[exclude]], or occupy the mark again',
  },
  'base-set-ups-contradict': {
    exit: 2,
    meaning: 'two days of a job give one base two antenna heights at one time',
    fix: 'find out which is right, and describe the base once, in [shared]',
  },
  'base-set-up-repeated': {
    exit: 2,
    meaning: 'two days of a job describe one set-up of a base each, which then counts as two',
    fix: 'describe the base once, in [shared]',
  },
  'base-known-twice': {
    exit: 2,
    meaning: 'two days of a job know one base by coordinates that differ by less than two marks would',
    fix: 'give the mark one coordinate, or two marks two names',
  },
  'day-date-differs': {
    exit: 2,
    meaning: 'no epoch of a day of a job falls on its date',
    fix: 'put the date right, or name the files of that day',
  },
  'base-height-kind': {
    exit: 2,
    meaning:
      'the known and the broadcast height of a base differ by the geoid height: one of the two is of the other kind',
    fix: 'name the known height by its kind, or mean it with --accept-base-shift',
  },
  'base-shift-large': {
    exit: 2,
    meaning: 'the known coordinate of a base is a kilometre or more from what it broadcast',
    fix: 'put the coordinates right, or mean it with --accept-base-shift',
  },
  'base-window-open': {
    exit: 2,
    meaning:
      'a base without from_utc and to_utc serves fixes of more than a day, or stands beside bases of other times',
    fix: 'give each set-up of a base its from_utc and to_utc',
  },
  'system-unknown': {
    exit: 2,
    meaning: 'no coordinate system has this code',
    fix: 'check the code in the EPSG registry',
  },
  'system-unsupported': {
    exit: 2,
    meaning: 'the system is known, but its definition cannot be computed here',
    fix: 'use another system, or a PROJ string of a supported projection',
  },
  'system-definition-invalid': {
    exit: 2,
    meaning: 'a PROJ definition string has an unknown, repeated or missing parameter',
    fix: 'mend the parameter named',
  },
  'system-mismatch': {
    exit: 2,
    meaning: 'two systems that must agree do not',
    fix: 'name the systems of the files, or transform one of them',
  },
  'shift-epoch-missing': {
    exit: 2,
    meaning: 'a time-dependent shift is asked for and no epoch is given',
    fix: 'give --epoch YEAR or system.epoch_year: the year the coordinates belong to',
  },
  'shift-convention-missing': {
    exit: 2,
    meaning: 'a shift has rotations and does not say by which convention',
    fix: 'set rotation_convention to position-vector or coordinate-frame, as its publisher states',
  },
  'operation-unknown': {
    exit: 2,
    meaning: 'no built-in operation has this code',
    fix: 'use a code from the list, or give the parameters with --shift FILE',
  },
  'operation-not-named': {
    exit: 2,
    meaning: 'two systems are on different datums and the operation between them is not named',
    fix: 'name it with --operation EPSG:n or --shift FILE; the message lists what would fit',
  },
  'plate-unknown': { exit: 2, meaning: 'no plate of the model has this name', fix: 'use one of the names listed' },
} as const;
