/** Problem codes: navigation files, almanacs, masks and the sky that is planned with them. */
export const skyCodes = {
  'nav-unknown-form': {
    exit: 3,
    meaning: 'a file is none of a RINEX navigation file, a YUMA almanac and a SEM almanac',
    fix: 'give the navigation file as the receiver or its converter wrote it, unpacked',
  },
  'nav-not-navigation': {
    exit: 3,
    meaning: 'a RINEX file holds observations or something else, and no orbits of satellites',
    fix: 'give the navigation file that was recorded beside it',
  },
  'nav-version': {
    exit: 3,
    meaning: 'a RINEX file is of a version that is not read',
    fix: 'convert it to version 2, 3 or 4',
  },
  'nav-unreadable': {
    exit: 3,
    meaning: 'a line of a navigation file or almanac cannot be read, or a record is cut off',
    fix: 'look at the line; get the file again, or leave bad records out with --on-error skip',
  },
  'nav-implausible': {
    exit: 3,
    meaning: 'a record holds numbers that are no orbit of a navigation satellite',
    fix: 'look at the line: a field may be shifted; get the file again, or leave bad records out with --on-error skip',
  },
  'sky-no-elements': {
    exit: 3,
    meaning: 'no healthy satellite has elements near enough to the time that is planned',
    fix: 'give a navigation file of the day or of the day before, or a newer almanac; look at --date and --systems',
  },
  'sky-elements-old': {
    exit: 1,
    meaning: 'broadcast elements are used for a time more than a day away from theirs',
    fix: 'give a newer navigation file; satellites are moved, switched on and off',
  },
  'sky-almanac-old': {
    exit: 1,
    meaning: 'an almanac is used for a time more than two weeks away from its own',
    fix: 'get a newer one',
  },
  'sky-elements-missing': {
    exit: 1,
    meaning:
      'elements of some satellites lie too far from part of the time that is planned, and they are left out there',
    fix: 'give a navigation file of the day, or an almanac beside it',
  },
  'sky-base-far': {
    exit: 1,
    meaning: 'a site is more than 100 km from the base of a plan of the sky: what both see in common says little there',
    fix: 'look at the place of the base; name a nearer one',
  },
  'sky-few-satellites': {
    exit: 1,
    meaning: 'fewer satellites than the limit are above the masks of both ends',
    fix: 'work there in another window, or move the base or the point away from what hides the sky',
  },
  'sky-high-pdop': {
    exit: 1,
    meaning:
      'the dilution of precision of what both ends see is above the limit, or they see too little to place a point',
    fix: 'work there in another window',
  },
  'sky-windows-open': {
    exit: 1,
    meaning: 'points of a plan have no window in the file of --sky-windows, and are planned at any time',
    fix: 'write the windows of the same points with plan-sky --windows',
  },
  'mask-no-place': {
    exit: 1,
    meaning: 'a file of masks names a place that is neither a point nor the base',
    fix: 'look at the spelling of point_id: without a mask a site is planned as open',
  },
  'mask-few-places': {
    exit: 1,
    meaning: 'a mask has a single place, so that it stands equally high all around',
    fix: 'measure the skyline at the edges of what hides the sky; --elevation-mask says one angle for all sites',
  },
} as const;
