/** Problem codes: checks against control, repeats, design and standards. */
export const checkCodes = {
  'check-horizontal-limit': {
    exit: 1,
    meaning: 'a horizontal difference exceeds its limit',
    fix: 'see the likely cause; reobserve the point',
  },
  'check-vertical-limit': {
    exit: 1,
    meaning: 'a height difference exceeds its limit',
    fix: 'see the likely cause; check antenna and pole heights',
  },
  'check-horizontal-noise': {
    exit: 1,
    meaning: 'a horizontal difference is larger than the stated uncertainty of both sides explains',
    fix: 'see the likely cause; the stated uncertainty may be too small',
  },
  'check-vertical-noise': {
    exit: 1,
    meaning: 'a height difference is larger than the stated uncertainty of both sides explains',
    fix: 'see the likely cause; the stated uncertainty may be too small',
  },
  'check-not-stated': {
    exit: 1,
    meaning: 'a limit cannot be applied because what it depends on is not known',
    fix: 'give the distance from the base, or the coordinates or height that the limit is of',
  },
  'check-axis-unjudged': {
    exit: 1,
    meaning: 'plan or height of a comparison has neither a limit nor an uncertainty, so nothing judges it',
    fix: 'give a limit for it, or points that state their sigmas',
  },
  'check-no-sigma': {
    exit: 1,
    meaning: 'a point states no sigmas, so that no class of accuracy can be stated for it',
    fix: 'use the points file that reduce-points writes',
  },
  'check-point-rejected': {
    exit: 1,
    meaning: 'the reduction rejected the point, and a small difference does not make it good',
    fix: 'see the reasons of the point; reobserve it',
  },
  'check-point-review': {
    exit: 1,
    meaning: 'the reduction left the point for review, and a small difference does not settle that',
    fix: 'see the reasons of the point, and settle them',
  },
  'check-no-coordinate': {
    exit: 1,
    meaning: 'a point to be checked was rejected and has no coordinate',
    fix: 'reobserve the point',
  },
  'check-nothing-in-common': {
    exit: 3,
    meaning: 'no point of the file is in the control, the design or repeated',
    fix: 'check the identifiers of both files; control of role fit does not count',
  },
  'check-too-few-rows': {
    exit: 3,
    meaning: 'a procedure needs more rows than the file has',
    fix: 'observe what is missing; nothing is claimed from less',
  },
  'check-height-kinds': {
    exit: 3,
    meaning: 'the two sides give different kinds of height and no geoid joins them',
    fix: 'give --geoid, or heights of one kind',
  },
  'check-place-conflict': {
    exit: 3,
    meaning: 'two names stand at one place, or one name at two places',
    fix: 'mend the name that is wrong',
  },
  'check-sigma-assumed': {
    exit: 3,
    meaning: 'the points state no sigma, so the planning model stands in',
    fix: 'use the points file that reduce-points writes',
  },
  'check-repeat-noise': {
    exit: 1,
    meaning: 'the occupations of the point together disagree beyond their uncertainty',
    fix: 'reobserve with a new initialisation; check the pole length',
  },
  'check-setup-unknown': {
    exit: 1,
    meaning:
      'whether the occupations agree depends on the share of their base in the stated sigmas, and no session says it',
    fix: 'give the session: --session FILE',
  },
  'check-repeat-too-soon': {
    exit: 1,
    meaning: 'occupations are too close in time to count as independent',
    fix: 'repeat after the stated time',
  },
  'register-moved': {
    exit: 1,
    meaning: 'the residuals of the days show a step that chance does not explain, on two set-ups or more',
    fix: 'take nothing from the mark or base until it was checked on independent control; measure it anew and keep both coordinates with their dates',
  },
  'register-moved-once': {
    exit: 1,
    meaning: 'only the last set-up shows a step: a movement, or a mistake of that day',
    fix: 'occupy the mark once more from a new set-up',
  },
  'register-set-up-off': {
    exit: 1,
    meaning:
      'one set-up stands apart, and those before and after it do not: a mistake of that set-up rather than a movement',
    fix: 'look at pole, antenna height, centring and point names of that set-up in the field book; use nothing measured with it before that',
  },
  'register-not-told-apart': {
    exit: 1,
    meaning: 'the step may be of any of several marks or bases',
    fix: 'see more marks from the base, or set up on another base',
  },
  'register-chart': {
    exit: 1,
    meaning: 'the control chart crosses its limit',
    fix: 'watch the mark or base on the days to come; a chart of a mark that stands crosses by chance once in 465 set-ups',
  },
  'register-too-large': {
    exit: 3,
    meaning: 'more residuals of control than a register searches',
    fix: 'give fewer days or fewer marks at a time',
  },
} as const;
