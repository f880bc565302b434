/** A cause that residuals can be tested for. */
export type CauseId =
  | 'base-coordinate'
  | 'base-antenna-height'
  | 'slant-height'
  | 'pole-length'
  | 'phase-centre'
  | 'height-kind'
  | 'geoid'
  | 'datum'
  | 'epoch'
  | 'zone'
  | 'axes'
  | 'shortened'
  | 'site-system'
  | 'feet'
  | 'degrees-minutes'
  | 'ground-distances'
  | 'distance-scale'
  | 'height-scale'
  | 'wrong-integer'
  | 'misidentified'
  | 'tilt'
  | 'control-coordinate'
  | 'names-exchanged'
  | 'noise'
  | 'occupation-noise';

/** What a cause is called, and what in the field or in the files would confirm it. */
export interface CauseText {
  readonly title: string;
  readonly confirm: string;
}

/** Every cause with its words; docs/methods/likely-cause.md lists the same. */
export const CAUSE_TEXTS: Readonly<Record<CauseId, CauseText>> = {
  'base-coordinate': {
    title: 'the base coordinate is wrong',
    confirm:
      'tie the base mark to control that does not come from this base; compare the coordinate sent with the one intended, its frame and its epoch',
  },
  'base-antenna-height': {
    title: 'the antenna height of the base is wrong',
    confirm: 'measure the base antenna again in two units; a pole wrong by the same length all day looks the same',
  },
  'slant-height': {
    title: 'a slant height of the base antenna was taken as a vertical one, or the reverse',
    confirm:
      'see in the field note or photograph whether the tape ran to the rim or straight up; at the next set-up measure both: radius and offset of the antenna must bring them together',
  },
  'pole-length': {
    title: 'the pole length is wrong',
    confirm: 'measure the pole and compare with the length logged for these occupations',
  },
  'phase-centre': {
    title: 'the phase centre was taken for the antenna reference point, or the reverse',
    confirm: 'see which of the two the log gives, and set reference_point to it',
  },
  'height-kind': {
    title: 'ellipsoidal and orthometric heights were compared',
    confirm: 'see which height each file holds: the differences equal the geoid height',
  },
  geoid: {
    title: 'the geoid model is wrong or one value was used for the whole site',
    confirm: 'see which model both sides used; the differences follow its surface',
  },
  datum: {
    title: 'the positions are on another datum',
    confirm: 'see which datum the corrections or the control belong to; the differences equal a known shift',
  },
  epoch: {
    title: 'the coordinates belong to another epoch',
    confirm:
      'see which epoch the base coordinate and the control belong to; the differences equal the motion of the plate',
  },
  zone: {
    title: 'the coordinates are in another zone',
    confirm: 'see which central meridian the file was computed with',
  },
  axes: {
    title: 'the two grid values are exchanged or have lost a sign',
    confirm: 'see the order and the sign rule of the program that wrote the file',
  },
  shortened: {
    title: 'constants or leading digits of the grid values were left off',
    confirm: 'see what the list of control says of constants taken off; add them before anything is compared',
  },
  'site-system': {
    title: 'the known coordinates are of a plane system of their own, shifted, turned or stretched against the grid',
    confirm: 'fit the site to its control (fit-site), and see that points kept out of the fit agree',
  },
  feet: {
    title: 'feet were read as metres, or metres as feet',
    confirm: 'see the unit of the file; the two feet differ by two parts in a million',
  },
  'degrees-minutes': {
    title: 'degrees and minutes were read as decimal degrees',
    confirm: 'see how the angles were written where they were typed',
  },
  'ground-distances': {
    title: 'ground distances were used as grid distances, or the reverse',
    confirm: 'compare one measured distance with the grid distance: their ratio is the combined factor',
  },
  'distance-scale': {
    title: 'an error grows with the distance from the base, as residual ionosphere or troposphere does',
    confirm: 'reobserve the far control at another hour, or from a nearer base',
  },
  'height-scale': {
    title: 'an error grows with the height difference from the base, as residual troposphere does',
    confirm: 'reobserve at another hour, or set the base at the height of the work',
  },
  'wrong-integer': {
    title: 'one initialisation carries an offset, as a wrong integer does, or the mark has moved',
    confirm: 'occupy the point again with a new initialisation; if the offset stays, doubt the mark or its coordinate',
  },
  misidentified: {
    title: 'another control point was occupied than the one named',
    confirm: 'compare the station description with the photograph or sketch',
  },
  'control-coordinate': {
    title: 'the coordinate of one control point is wrong',
    confirm:
      'compare it with its list and tie the mark to other control; occupations with initialisations of their own that agree speak for it',
  },
  'names-exchanged': {
    title: 'the names of two points are exchanged',
    confirm:
      'compare both station descriptions with the photographs or sketches, and both rows with the list of control',
  },
  noise: {
    title: 'the measurements are noisier than stated',
    confirm:
      'see the conditions stated for the day, the age of corrections and the sky at the marks; state the conditions that were, and reobserve what matters at another hour',
  },
  'occupation-noise': {
    title: 'one occupation has more error than its stated noise gives, as happens now and then without a mistake',
    confirm: 'occupy the point again with a new initialisation, at another hour: chance does not come twice',
  },
  tilt: {
    title: 'the pole leaned and the lean was not taken off',
    confirm: 'check the bubble by turning the pole half round; occupy the point again',
  },
};

/** Causes that are not searched for: they are only said beside one that is. */
const BESIDE_OTHERS: readonly CauseId[] = ['occupation-noise'];

/** How many causes are searched for: the odds against any one of them before looking, and the share of the level each has. */
export const CAUSE_COUNT: number = Object.keys(CAUSE_TEXTS).length - BESIDE_OTHERS.length;
