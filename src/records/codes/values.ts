/** Problem codes: values. */
export const valueCodes = {
  'value-hidden-character': {
    exit: 3,
    meaning:
      'a name or text holds a character that is not seen or turns the direction of writing, so that two names may look the same; as a warning only',
    fix: 'take the character out of the file',
  },
  'value-missing': { exit: 3, meaning: 'a required cell is empty', fix: 'fill it, or leave the row out' },
  'value-not-a-number': {
    exit: 3,
    meaning: 'a cell that must be a number is not one',
    fix: 'mend the cell; decimal commas need --decimal-comma',
  },
  'value-ambiguous-number': {
    exit: 3,
    meaning: 'a number can be read two ways, such as 1,234',
    fix: 'say which with --decimal-comma, and remove grouping',
  },
  'value-out-of-range': {
    exit: 3,
    meaning: 'a value is outside its possible range',
    fix: 'check the value and its unit',
  },
  'value-unknown-word': {
    exit: 3,
    meaning: 'a cell holds a word that is not one of those allowed',
    fix: 'use one of the words listed',
  },
  'value-invalid-id': {
    exit: 3,
    meaning: 'an identifier is empty or holds a control character',
    fix: 'mend the identifier',
  },
  'value-duplicate-id': {
    exit: 3,
    meaning: 'an identifier that must be unique occurs twice',
    fix: 'rename or remove one',
  },
  'value-unknown-id': {
    exit: 3,
    meaning: 'an identifier refers to nothing',
    fix: 'check its spelling against the other file',
  },
  'latitude-out-of-range': {
    exit: 3,
    meaning: 'a latitude is outside -90 to 90',
    fix: 'check the value, and whether latitude and longitude are swapped',
  },
  'longitude-out-of-range': {
    exit: 3,
    meaning: 'a longitude is outside -180 to 360',
    fix: 'check the value and its unit',
  },
  'coordinates-swapped': {
    exit: 3,
    meaning: 'latitude and longitude look exchanged',
    fix: 'map the columns with --columns',
  },
  'angle-syntax': {
    exit: 3,
    meaning: 'an angle is neither decimal degrees nor in the documented form of degrees, minutes, seconds',
    fix: 'see the help topic units',
  },
  'time-syntax': { exit: 3, meaning: 'a time is not ISO 8601', fix: 'write 2026-03-04T06:00:00Z' },
  'time-without-zone': { exit: 3, meaning: 'a time does not say its zone', fix: 'write UTC with a Z' },
  'time-out-of-order': {
    exit: 3,
    meaning: 'an epoch is earlier than the one before it at the same point',
    fix: 'sort the file by time, or check the clock',
  },
  'time-missing': {
    exit: 3,
    meaning: 'a row has no time among rows of its point that have one, or none of them has',
    fix: 'give every row its epoch_utc, or say with epoch_count that a row is a mean',
  },
  'epoch-repeated': {
    exit: 3,
    meaning: 'an epoch of a point stands twice, or two occupations of a point stand at the same time',
    fix: 'keep one of the two; of rows that follow each other and are the same in every cell the second is left out',
  },
  'height-kind-unstated': {
    exit: 3,
    meaning: 'a height column does not say which height it is',
    fix: 'map it to ellipsoidal_height_m or orthometric_height_m',
  },
  'tilt-azimuth-sigma-unstated': {
    exit: 2,
    meaning:
      'poles leaned by more than a few degrees and how good their azimuths are is not stated; a default is used and what it costs is said',
    fix: 'set rover.tilt_azimuth_sigma_deg to what the compass was checked to',
  },
  'tilt-azimuth-missing': {
    exit: 3,
    meaning: 'a tilt is given without its azimuth',
    fix: 'add tilt_azimuth_deg, or hold the pole plumb',
  },
  'tilt-convention-missing': {
    exit: 2,
    meaning: 'a tilt occurs and the session does not say which way its azimuth points',
    fix: 'set rover.tilt_azimuth',
  },
  'pole-length-missing': {
    exit: 3,
    meaning: 'neither the row nor the session gives a pole length',
    fix: 'add pole_length_m or rover.pole_length_m',
  },
  'base-unknown': {
    exit: 3,
    meaning: 'a row names a base that the session does not describe',
    fix: 'add the base, or mend the name',
  },
  'base-ambiguous': {
    exit: 3,
    meaning: 'a row could belong to more than one base',
    fix: 'add base_id, or times to the bases',
  },
} as const;
