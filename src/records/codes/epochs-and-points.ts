/** Problem codes: epochs and points. */
export const reductionCodes = {
  'epoch-not-fixed': {
    exit: 1,
    meaning: 'the solution of the epoch is not among those accepted',
    fix: 'reobserve with a fixed solution',
  },
  'epoch-correction-age': {
    exit: 1,
    meaning: 'the corrections were older than the limit',
    fix: 'check the mobile link',
  },
  'epoch-correction-age-unknown': {
    exit: 1,
    meaning: 'a limit on correction age is set and the epoch has none',
    fix: 'log the age, or drop the limit',
  },
  'epoch-satellites': { exit: 1, meaning: 'fewer satellites than the limit', fix: 'reobserve with a clearer sky' },
  'epoch-satellites-unknown': {
    exit: 1,
    meaning: 'a limit on satellites is set and the epoch has no count',
    fix: 'log the count, or drop the limit',
  },
  'epoch-pdop': { exit: 1, meaning: 'dilution of precision above the limit', fix: 'reobserve at another time' },
  'epoch-pdop-unknown': {
    exit: 1,
    meaning: 'a limit on PDOP is set and the epoch has none',
    fix: 'log it, or drop the limit',
  },
  'epoch-tilt': {
    exit: 1,
    meaning: 'the pole leaned more than the limit',
    fix: 'reobserve with the pole nearer plumb',
  },
  'epoch-baseline': { exit: 1, meaning: 'the base is farther than the limit', fix: 'use a nearer base' },
  'epoch-sigma-horizontal': { exit: 1, meaning: 'the reported horizontal sigma is above the limit', fix: 'reobserve' },
  'epoch-sigma-vertical': { exit: 1, meaning: 'the reported vertical sigma is above the limit', fix: 'reobserve' },
  'epoch-sigma-unknown': {
    exit: 1,
    meaning: 'a limit on sigma is set and the epoch has none',
    fix: 'log it, or drop the limit',
  },
  'epoch-outlier': {
    exit: 1,
    meaning: 'the epoch lies farther from the median of its occupation than epochs scatter',
    fix: 'none needed if few',
  },
  'point-no-accepted-epoch': { exit: 1, meaning: 'no epoch of the occupation was accepted', fix: 'reobserve' },
  'point-no-epochs': {
    exit: 1,
    meaning: 'an occupation that --occupations names has no epoch in the logs',
    fix: 'check its times; reobserve',
  },
  'point-too-few-epochs': { exit: 1, meaning: 'fewer accepted epochs than the limit', fix: 'reobserve for longer' },
  'point-too-short': {
    exit: 1,
    meaning: 'the accepted epochs span less time than the limit',
    fix: 'reobserve for longer',
  },
  'point-many-outliers': {
    exit: 1,
    meaning: 'of ten or more accepted epochs more than one and more than a tenth are outliers',
    fix: 'reobserve; look at the epochs',
  },
  'point-few-agree': {
    exit: 1,
    meaning: 'of fewer than ten accepted epochs two or more are outliers, or fewer than four are left beside one',
    fix: 'reobserve for longer; look at the epochs',
  },
  'point-epochs-disagree': {
    exit: 1,
    meaning: 'the accepted epochs differ by more than the planning model allows, and no more than half of them agree',
    fix: 'reobserve; look for another reference point, antenna height or point among the rows',
  },
  'point-scatter-large': {
    exit: 1,
    meaning: 'the accepted epochs scatter by far more than the planning model and their sigmas say',
    fix: 'reobserve under a clearer sky; check the conditions of the planning model',
  },
  'point-antenna-moving': {
    exit: 1,
    meaning: 'the antenna moved during the occupation, in plan or in height',
    fix: 'not a point: reobserve standing still; look for another reference point or antenna height among the rows',
  },
  'point-drift': {
    exit: 1,
    meaning: 'the positions drift over the occupation more than the model explains',
    fix: 'reobserve, or wait longer after the fix',
  },
  'point-step': {
    exit: 1,
    meaning: 'the positions jump within the occupation',
    fix: 'reobserve; suspect a new initialisation or a moved pole',
  },
  'point-base-residual': {
    exit: 1,
    meaning:
      'the bend of the vector by a wrong base coordinate is a third of the variance of the point, or of a tolerance',
    fix: 'reprocess the raw observations with the right base coordinate, or reobserve',
  },
  'point-base-residual-large': {
    exit: 1,
    meaning:
      'the bend of the vector by a wrong base coordinate is a third of the variance of the point and of a tolerance',
    fix: 'reprocess the raw observations with the right base coordinate, or reobserve',
  },
  'point-horizontal-95': {
    exit: 1,
    meaning: 'the 95 % circle exceeds the tolerance',
    fix: 'repeat the occupation later, or move the base nearer',
  },
  'point-vertical-95': {
    exit: 1,
    meaning: 'the 95 % vertical uncertainty exceeds the tolerance',
    fix: 'repeat the occupation later, or move the base nearer',
  },
  'point-repeat-disagrees': {
    exit: 1,
    meaning: 'the occupations of the point together disagree beyond their uncertainty',
    fix: 'reobserve with a new initialisation; check the pole length',
  },
  'point-repeat-odd': {
    exit: 1,
    meaning: 'of the occupations of the point this one stands apart, and the others agree',
    fix: 'look at this one first: integers, pole length, the mark',
  },
  'point-repeat-too-soon': {
    exit: 1,
    meaning: 'occupations of the point are too close in time to count as independent; the covariance says so',
    fix: 'nothing; for an independent check repeat after the stated time',
  },
  'point-repeat-not-independent': {
    exit: 1,
    meaning: 'occupations too close in time add next to nothing, or the tolerance is met by joining them only',
    fix: 'repeat after the stated time',
  },
  'point-separation-differs': {
    exit: 1,
    meaning: 'the geoid separation of the log is 0, or more than 10 m from the geoid in force',
    fix: 'log the separation that the receiver takes to its altitude; check the height of a known point',
  },
  'point-positions-frozen': {
    exit: 1,
    meaning:
      'the position does not change by a unit of its last place over 30 epochs or more: these are no measurements',
    fix: 'export the epochs and not a mean of them; look whether the receiver had stopped; occupy again',
  },
  'point-outside-area': {
    exit: 1,
    meaning: 'the point is outside the area of use of the system',
    fix: 'check the zone',
  },
  'point-pole-length-changed': {
    exit: 1,
    meaning: 'the pole length differs between occupations of the point',
    fix: 'check which is right',
  },
  'point-pole-implausible': {
    exit: 1,
    meaning:
      'the pole is longer than 5 m or of no length below an antenna, or the phase centre is more than 0.3 m from the reference point',
    fix: 'give the length in metres; where positions are of the mark already, say reference point tip',
  },
  'point-pole-changed-at-once': {
    exit: 1,
    meaning: 'the pole length changes from one row to the next within a second',
    fix: 'a pole takes longer to change: mend the length that is wrong',
  },
} as const;
