// The mistakes that are planted in days of control: what each does to a day, and what a metre of it does to each residual.

const up = [0, 0, 1];
const none = [0, 0, 0];
const times = (vector, factor) => vector.map((value) => value * factor);

/** Stands that a mistake of one stand, or of all from one time on, is in. */
function someStands(day, random) {
  const from = 1 + random.index(day.stands.length - 1);
  const isOne = random.next() < 0.5;
  return (i) => (isOne ? i === from : i >= from);
}

/** The log gives phase centres and the session takes them for reference points; it states the offset between the two. */
const phaseCentre = (day) => ({
  effects: day.stands.map(() => up),
  set: (size) => {
    day.phaseCentreM = size;
    for (const one of day.stands) one.offset = times(up, size);
  },
});

/**
 * Each: `causes` that name it rightly, and `plant(day, random)`, which returns `effects` (of one metre, on each residual) and
 * `set(sizeM)`, which puts it into the day. `unknowns`: what a test must find out beside the place, 3 where the way of it in space is one. `baseSigmasM`: how well the base is known, where not as usual.
 */
export const MISTAKES = {
  'wrong integer': {
    causes: ['wrong-integer'],
    unknowns: 3,
    plant(day, random) {
      const direction = random.direction();
      const wrong = random.index(day.stands.length);
      return {
        effects: day.stands.map((_, i) => (i === wrong ? direction : none)),
        set: (size) => (day.stands[wrong].offset = times(direction, size)),
      };
    },
  },
  'pole length': {
    causes: ['pole-length'],
    unknowns: 1,
    plant(day, random) {
      const isIn = someStands(day, random);
      const sign = random.sign();
      return {
        effects: day.stands.map((_, i) => (isIn(i) ? up : none)),
        set: (size) => day.stands.forEach((one, i) => (one.poleOffM = isIn(i) ? sign * size : 0)),
      };
    },
  },
  'base coordinate': {
    causes: ['base-coordinate'],
    unknowns: 3,
    plant(day, random) {
      const direction = random.direction();
      return {
        effects: day.stands.map(() => direction),
        set: (size) => (day.base.statedKnownOff = times(direction, size)),
      };
    },
  },
  'base antenna': {
    causes: ['base-antenna-height'],
    unknowns: 1,
    plant(day, random) {
      const sign = random.sign();
      return { effects: day.stands.map(() => up), set: (size) => (day.base.statedAntennaOffM = sign * size) };
    },
  },
  'phase centre': { causes: ['phase-centre'], unknowns: 1, plant: phaseCentre },
  'phase centre, base to 8 mm': {
    causes: ['phase-centre'],
    unknowns: 1,
    baseSigmasM: [0.005, 0.008],
    plant: phaseCentre,
  },
  'control coordinate': {
    causes: ['control-coordinate'],
    unknowns: 3,
    plant(day, random) {
      const direction = random.direction();
      const wrong = day.marks[random.index(day.marks.length)];
      return {
        effects: day.stands.map(({ site }) => (site === wrong.site ? direction : none)),
        set: (size) => (wrong.off = times(direction, size)),
      };
    },
  },
};
