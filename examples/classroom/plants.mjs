// What can be planted in the day of a student. Each kind says what it changes and which word of Pegbook's must show it.
import { axesAt, geocentricOf, geodeticOf, gridOf, inventedGeoidM, moved } from '../quillback-pan/earth.mjs';

const NEIGHBOUR_MERIDIAN_DEG = 23;
const DECIMALS = 3;

const metres = (value) => `${value.toFixed(DECIMALS)} m`;
const pick = (random, list) => list[Math.floor(random.uniform() * list.length)];
/** A size between two, of either sign, to the millimetre. */
const signed = (random, least, most) =>
  Number(((random.uniform() < 0.5 ? -1 : 1) * (least + (most - least) * random.uniform())).toFixed(DECIMALS));
const mapOne = (list, index, change) => list.map((one, place) => (place === index ? change(one) : one));
const said = (day, pointId, what, shown, occupation = '') => ({
  ...day,
  planted: [...day.planted, { pointId, occupation, what, shown }],
});

/** A fault in one stand of a new point that has none yet: the plan before it is surveyed. */
const inOneStand = (shown, isSecond, draw) => ({
  when: 'plan',
  isOfWholeDay: false,
  shown,
  apply(plan, random) {
    const taken = new Set(plan.planted.map(({ pointId }) => pointId));
    const free = plan.points.map(({ id }) => id).filter((id) => id.startsWith('QC-') && !taken.has(id));
    const pointId = pick(random, free);
    const occupation = (isSecond ?? random.uniform() < 0.5) ? 2 : 1;
    const index = plan.stands.map(({ point }, place) => (point === pointId ? place : -1)).filter((place) => place >= 0);
    const { more, what } = draw(random, plan);
    const stands = mapOne(plan.stands, index[occupation - 1], (stand) => ({ ...stand, ...more }));
    return said({ ...plan, stands }, pointId, what, shown, String(occupation));
  },
});

/** A fault in the settings of the base or in the list of control: the day after it was surveyed. */
const ofWholeDay = (shown, apply) => ({ when: 'day', isOfWholeDay: true, shown, apply });

/** By the name that --plant takes. */
export const PLANTS = {
  'wrong-pole': inOneStand('pole-length', null, (random, plan) => {
    const offM = pick(random, [-0.3, -0.2, 0.2, 0.3]);
    const writtenPoleM = Number((plan.poleLengthM + offM).toFixed(DECIMALS));
    return {
      more: { writtenPoleM },
      what: `the pole is written as ${metres(writtenPoleM)} for ${metres(plan.poleLengthM)}`,
    };
  }),
  'wrong-integers': inOneStand('wrong-integer', null, (random) => {
    const wrongFixM = [signed(random, 0.08, 0.16), signed(random, 0.08, 0.16), signed(random, 0.1, 0.2)];
    return {
      more: { wrongFixM },
      what: `wrong integers: east ${metres(wrongFixM[0])}; north ${metres(wrongFixM[1])}; up ${metres(wrongFixM[2])}`,
    };
  }),
  'never-fixed': inOneStand('point-no-accepted-epoch', true, (_, plan) => ({
    more: { float: [0, plan.stands[0].seconds] },
    what: 'never fixed',
  })),
  'too-brief': inOneStand('point-too-few-epochs', true, (random) => {
    const seconds = 4 + Math.floor(5 * random.uniform());
    return { more: { seconds }, what: `stood for ${String(seconds)} s only` };
  }),
  walked: inOneStand('point-antenna-moving', true, (random) => {
    const walkMetresPerSecond = Number((0.5 + 0.5 * random.uniform()).toFixed(1));
    return { more: { walkMetresPerSecond }, what: `walked at ${walkMetresPerSecond.toFixed(1)} m/s, not stood` };
  }),
  'old-corrections': inOneStand('epoch-correction-age', null, () => ({
    more: { aged: [12, 26] },
    what: 'for 14 s the corrections were older than 10 s',
  })),

  'wrong-base': ofWholeDay('base-coordinate', (day, random) => {
    const offM = [signed(random, 0.3, 1.5), signed(random, 0.3, 1.5), signed(random, 0.2, 0.9)];
    const bases = day.bases.map((base) => {
      const { latitudeDeg, longitudeDeg } = base.known;
      return {
        ...base,
        known: geodeticOf(moved(geocentricOf(base.known), axesAt(latitudeDeg, longitudeDeg), ...offM)),
      };
    });
    const what = `the known coordinate of the base is off by east ${metres(offM[0])}; north ${metres(offM[1])}; up ${metres(offM[2])}`;
    return said({ ...day, bases }, 'B1', what, 'base-coordinate');
  }),
  'wrong-antenna-height': ofWholeDay('base-antenna-height', (day, random) => {
    const offM = signed(random, 0.2, 0.5);
    const bases = day.bases.map((base) => {
      const { antenna } = base.settings;
      return { ...base, settings: { ...base.settings, antenna: { ...antenna, heightM: antenna.heightM + offM } } };
    });
    return said(
      { ...day, bases },
      'B1',
      `the antenna height of the base is off by ${metres(offM)}`,
      'base-antenna-height',
    );
  }),
  'wrong-zone': ofWholeDay('zone', (day) => {
    const control = day.control.map((known) => {
      const { place } = day.points.find(({ settings }) => settings.id === known.id);
      const [own, next] = [gridOf(place), gridOf(place, NEIGHBOUR_MERIDIAN_DEG)];
      return {
        ...known,
        westingM: known.westingM + next.westingM - own.westingM,
        southingM: known.southingM + next.southingM - own.southingM,
      };
    });
    return said(
      { ...day, control },
      'all',
      `the control is of central meridian ${String(NEIGHBOUR_MERIDIAN_DEG)}`,
      'zone',
    );
  }),
  'wrong-heights': ofWholeDay('height-kind', (day) => {
    const control = day.control.map((known) => {
      const { latitudeDeg, longitudeDeg } = day.points.find(({ settings }) => settings.id === known.id).place;
      return { ...known, orthometricHeightM: known.orthometricHeightM + inventedGeoidM(latitudeDeg, longitudeDeg) };
    });
    return said(
      { ...day, control },
      'all',
      'the heights of the control are ellipsoidal and called orthometric',
      'height-kind',
    );
  }),
  'moved-control': ofWholeDay('control-coordinate', (day, random) => {
    const index = Math.floor(random.uniform() * day.control.length);
    const offM = [signed(random, 0.12, 0.4), signed(random, 0.12, 0.4)];
    const control = mapOne(day.control, index, (known) => ({
      ...known,
      westingM: known.westingM + offM[0],
      southingM: known.southingM + offM[1],
    }));
    const what = `its westing is off by ${metres(offM[0])} and its southing by ${metres(offM[1])}`;
    return said({ ...day, control }, day.control[index].id, what, 'control-coordinate');
  }),
  'exchanged-names': ofWholeDay('names-exchanged', (day, random) => {
    const first = Math.floor(random.uniform() * day.control.length);
    const second = (first + 1 + Math.floor(random.uniform() * (day.control.length - 1))) % day.control.length;
    const [one, other] = [day.control[first].id, day.control[second].id];
    const control = mapOne(
      mapOne(day.control, first, (known) => ({ ...known, id: other })),
      second,
      (known) => ({ ...known, id: one }),
    );
    return said(
      { ...day, control },
      `${one} ${other}`,
      'the two names are exchanged in the control',
      'names-exchanged',
    );
  }),
};
