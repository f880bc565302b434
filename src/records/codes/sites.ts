/** Problem codes: fitting a site and using it. */
export const siteCodes = {
  'site-too-few-control': {
    exit: 3,
    meaning: 'there is not enough control marked fit for what is to be fitted',
    fix: 'observe more control, or fit less: a stated scale, a height shift instead of a plane',
  },
  'site-too-many-benchmarks': {
    exit: 3,
    meaning: 'a surface of heights is asked for with more benchmarks than are fitted together',
    fix: 'fit parts of the area, or --vertical plane, which takes any number',
  },
  'site-height-system': {
    exit: 3,
    meaning: 'benchmarks are in different height systems, or not in the one that the measured heights are in',
    fix: 'bring all benchmarks to one height system, and name their column by its kind',
  },
  'site-poor-spread': {
    exit: 3,
    meaning: 'the control lies too close to one line or one place to carry the fit',
    fix: 'observe control around the whole site',
  },
  'site-outside-control': {
    exit: 3,
    meaning: 'a point lies outside the control of a site by more than its buffer',
    fix: 'add control beyond it and fit again, or give --extrapolate and mind the growing sigma',
  },
  'site-outlier': {
    exit: 1,
    meaning: 'a control point does not fit with the others',
    fix: 'find out which of its coordinates is wrong before the site is used',
  },
  'site-suspect': {
    exit: 1,
    meaning: 'scale, rotation, shift or tilt of a site point to something other than a site of its own',
    fix: 'settle the cause named; a fit would only hide it',
  },
  'site-curved': {
    exit: 1,
    meaning: 'the heights that a plane leaves follow a curved surface',
    fix: 'use a better geoid model, fit smaller parts, or look for one wrong height',
  },
  'site-check-exceeds': {
    exit: 1,
    meaning: 'a check point kept out of the fit is off by more than the tolerance or its uncertainty',
    fix: 'find out why before the site is used',
  },
  'site-transfer-exceeds': {
    exit: 1,
    meaning: 'a levelled line and the heights carried along it differ by more than their uncertainty',
    fix: 'look for a blunder in the levelling or in a measured height, or for a signal stated too small',
  },
  'design-impossible': {
    exit: 3,
    meaning: 'no project grid of the method asked for can be computed over the points',
    fix: 'state another --method, or make grids for parts of the area',
  },
  'design-heights': {
    exit: 1,
    meaning: 'orthometric heights stand in for ellipsoidal ones in a project grid',
    fix: 'give ellipsoidal heights, or a geoid with --geoid',
  },
  'design-height-range': {
    exit: 1,
    meaning: 'the range of the heights alone costs a project grid more than is allowed',
    fix: 'make grids for parts of the area at like heights, or reduce lengths point by point',
  },
  'site-unchecked': {
    exit: 1,
    meaning: 'nothing, or hardly anything, checks the fit or one of its points',
    fix: 'observe more control, and keep one or two points out of the fit as checks',
  },
} as const;
