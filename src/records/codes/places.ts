/** Problem codes: places. */
export const placeCodes = {
  'height-far-from-others': {
    exit: 3,
    meaning:
      'a height stands apart from all others of the run by more than four times their range, and 200 m or a factor of a foot; as a warning only',
    fix: 'check the height and its unit',
  },
  'slope-from-base-steep': {
    exit: 3,
    meaning: 'a line of 50 m or more from a base to a point is steeper than 100 %; as a warning only',
    fix: 'check the heights of both and their unit',
  },
  'coordinate-outside-domain': {
    exit: 3,
    meaning: 'a position is outside what the projection can represent',
    fix: 'choose a system made for the place',
  },
  'coordinate-outside-area': {
    exit: 3,
    meaning: 'a position is outside the area of use of the system',
    fix: 'check the zone; scale and accuracy suffer outside it',
  },
  'coordinate-implausible': {
    exit: 3,
    meaning: 'a coordinate is far from anything the system describes',
    fix: 'check axis order, unit and zone',
  },
  'sinex-unreadable': {
    exit: 4,
    meaning: 'a SINEX file is cut off, or a line of it is none of the form',
    fix: 'fetch the file again; the line is named',
  },
  'sinex-unsupported': {
    exit: 4,
    meaning: 'the matrix of a SINEX file cannot be made a covariance',
    fix: 'use the solution with COVA or CORR',
  },
  'sinex-site-unknown': {
    exit: 2,
    meaning: 'a SINEX file has no such site, or not one place of it',
    fix: 'use one of the codes listed',
  },
  'base-frame-carried': {
    exit: 2,
    meaning: 'the known coordinate of a base was taken to the national frame by a chain of its own',
    fix: 'observe a station of the agency in the same way, and compare',
  },
  'grid-unreadable': { exit: 4, meaning: 'a grid file cannot be read or is truncated', fix: 'fetch the file again' },
  'grid-unsupported': {
    exit: 4,
    meaning: 'a grid file is of a kind or has a feature not supported',
    fix: 'convert it to a supported kind',
  },
  'grid-outside': { exit: 3, meaning: 'a position is outside the grid', fix: 'use a grid that covers the place' },
  'grid-nodata': {
    exit: 3,
    meaning: 'the grid has no value at a node around the position',
    fix: 'use a grid that covers the place',
  },
  'grid-frame-mismatch': {
    exit: 2,
    meaning: 'the grid belongs to another frame than the positions',
    fix: 'use a grid of the same frame, or transform the positions first',
  },
  'geoid-coarse': {
    exit: 3,
    meaning: 'the built-in geoid model is of decimetre class',
    fix: 'use a national grid file for heights that matter',
  },
  'method-no-convergence': {
    exit: 3,
    meaning: 'an iteration did not settle',
    fix: "the input is outside the method's domain",
  },
  'method-undetermined': {
    exit: 3,
    meaning: 'the answer is not unique, such as the azimuth between coincident points',
    fix: 'see the method page',
  },
  'method-ground-spread': {
    exit: 3,
    meaning: 'the combined factor varies over the job by more than one ground scale can stand for',
    fix: 'split the job, or keep grid coordinates and state the factor of each line',
  },
  'method-ground-far': {
    exit: 3,
    meaning: 'the place that the ground scale holds at is more than 50 km from every point',
    fix: 'give a place in the middle of the job; the latitude comes first, and west and south are negative',
  },
} as const;
