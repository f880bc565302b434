/** Problem codes: adjustment of networks. */
export const networkCodes = {
  'network-loose': {
    exit: 3,
    meaning: 'a part of the network has nothing that gives it a place or a height',
    fix: 'give control to one of its stations, or an observation that ties it to the rest',
  },
  'network-undetermined': {
    exit: 3,
    meaning: 'the observations do not determine every coordinate',
    fix: 'give the station named a vector, or control: a distance or a height difference alone does not place it',
  },
  'network-observation': {
    exit: 1,
    meaning: 'an observation does not agree with the others within their stated variances',
    fix: 'look at the estimated bias; observe again, or leave it out with --exclude-outliers',
  },
  'network-excluded': {
    exit: 1,
    meaning: 'an observation or a control point was left out of the adjustment, as --exclude-outliers asks for',
    fix: 'find out why it is wrong, and observe it again',
  },
  'network-copied': {
    exit: 1,
    meaning:
      'a vector, a levelled difference or a distance is there twice, number for number, as it stands or from the other end: it counts once',
    fix: 'leave one of the two out; where both vectors were measured, say so by day or base_setup; of two measured lines give the mean',
  },
  'network-sigma-large': {
    exit: 3,
    meaning:
      'the sigma of a levelled difference or a distance is 0.2 m or more, as millimetres typed for metres are; as a warning only',
    fix: 'give sigma_m in metres',
  },
  'network-control': {
    exit: 1,
    meaning: 'a control point does not agree with the network and the other control',
    fix: 'check its coordinate, its frame and epoch, and that the right mark was occupied',
  },
  'network-control-pulls': {
    exit: 1,
    meaning:
      'control that fails its test holds the coordinates, and moves the station farther than its uncertainty says, or no other control is left to say how far',
    fix: 'find out what is wrong with that control first; --exclude-outliers leaves out control that fails clearly',
  },
  'network-unchecked': {
    exit: 1,
    meaning: 'nothing checks an observation, a station or a control point: a blunder in it would not show',
    fix: 'observe it once more, from another base or on another day',
  },
  'network-heights': {
    exit: 3,
    meaning:
      'the orthometric height of a control point is not what its ellipsoidal height and the geoid give, or could not be compared; as a warning too',
    fix: 'check both heights and their datums, and leave the wrong one out; give --geoid and its sigma',
  },
  'network-sigma-drowned': {
    exit: 1,
    meaning:
      'the stated sigma of a base is so large that the written sigmas of its points no longer hold their own part: the planning model says it',
    fix: 'leave the sigmas of a base that is not known out of the session, and reduce the points again',
  },
  'network-too-noisy': {
    exit: 1,
    meaning:
      'the residuals of the whole are larger than the stated variances allow: a blunder, or variances stated too small',
    fix: 'look for observations and control that fail first; then see the variance components',
  },
  'network-too-quiet': {
    exit: 1,
    meaning: 'the residuals of the whole are smaller than the stated variances say: these were stated too large',
    fix: 'nothing needs to be mended for safety; uncertainties are larger than they need be',
  },
} as const;
