// Invented days with one mistake planted, for tools/cause-rates.mjs and the test of its rates.
//
// The errors are made by a world of its own: nothing of the search's noise, of the planning model or of its correlation
// is used. Each occupation's error is a sum of waves of several periods, a process with a random time of its own,
// multipath that belongs to the mark, a gradient over the distance, a part that grows with the climb, and one with
// heavy tails; together they are as large as the points state, in a shape that the search does not assume. Only places
// on the Earth (geodesics, grids, plate motion) are made with the program's own functions.

const OCCUPATIONS = 18;
const CONTROLS = 12;
const SIGMA_BASE = { horizontal: 0.01, vertical: 0.02 };
const SIGMA_CONTROL = { horizontal: 0.006, vertical: 0.01 };
const SIGMA_POLE = 0.004;
const POLE_M = 2;
const STATED_OFFSET_M = 0.0905;
const STATED_SHIFT = [-134.7, -110.9, -292.7];
const ANTENNA_M = 1.6;
const PLATE = { radiusM: 0.0892, offsetM: 0.0305 };

function take(outcome) {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

function random(seed) {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const normal = () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  return {
    next,
    normal,
    between: (low, high) => low + (high - low) * next(),
    index: (n) => Math.floor(next() * n),
    sign: () => (next() < 0.5 ? -1 : 1),
  };
}

/**
 * Days made with the core's own functions, handed in so that the tool can use the built ones and the test the sources.
 * Returned: the causes that can be planted with their sizes; a day with one planted; a day without a mistake.
 */
export function createCauseDays(core) {
  const {
    CLARKE_1880_ARC,
    PLATE_POLES,
    WGS84,
    buildGridSystem,
    createGeodesic,
    definitionFromProjString,
    geocentricToGeodetic,
    geodeticToGeocentric,
    localFrameAt,
    localToGeocentric,
    movePoint,
  } = core;
  const geodesic = createGeodesic(WGS84);
  const zone = (longitudeDeg, figure = '+ellps=WGS84') =>
    take(
      buildGridSystem(
        take(
          definitionFromProjString(
            `+proj=tmerc +lat_0=0 +lon_0=${longitudeDeg} +k=1 +x_0=0 +y_0=0 +axis=wsu ${figure} +units=m +no_defs`,
          ),
        ),
        null,
      ),
    );
  const both = ({ forward, inverse }) => ({ forward, inverse });
  const oldGrid = zone(21, '+a=6378249.145 +rf=293.4663077');
  const grid = zone(21);
  const otherZones = [-3, -2, -1, 1, 2, 3].map((steps) => ({
    name: `central meridian ${21 + 2 * steps}`,
    ...both(zone(21 + 2 * steps)),
  }));
  const nubia = PLATE_POLES.find((pole) => pole.code === 'NUBI');

  // An invented geoid: a plane and a bump, metres. `scale` makes its mean, `slope` its variation.
  const geoidAt = (lat, lon, shape) =>
    shape.mean +
    shape.slope *
      ((lon - 21.4) * 94 + 0.6 * (lat + 31.6) * 111 + 8 * Math.sin((lon - 21.2) * 9) * Math.cos((lat + 31.5) * 7));

  /** A day: base, controls, occupations with times; nothing measured yet. */
  function layout(r, options) {
    const base = { latitudeDeg: -31.6, longitudeDeg: 21.4, ellipsoidalHeightM: options.heightM ?? 1040 };
    const controls = [];
    for (let i = 0; i < CONTROLS; i += 1) {
      const to = geodesic.direct(
        base.latitudeDeg,
        base.longitudeDeg,
        r.between(0, 360),
        1000 * r.between(1, options.reachKm ?? 40),
      );
      controls.push({
        id: `C${i + 1}`,
        latitudeDeg: to.latitudeDeg,
        longitudeDeg: to.longitudeDeg,
        ellipsoidalHeightM: base.ellipsoidalHeightM + r.between(-400, 400),
      });
    }
    if (options.pairM !== undefined) {
      const to = geodesic.direct(controls[0].latitudeDeg, controls[0].longitudeDeg, r.between(0, 360), options.pairM);
      controls[1] = {
        ...controls[1],
        latitudeDeg: to.latitudeDeg,
        longitudeDeg: to.longitudeDeg,
        ellipsoidalHeightM: controls[0].ellipsoidalHeightM + 0.05 * options.pairM * r.normal(),
      };
    }
    const order = [...controls.keys(), ...[...controls.keys()].slice(0, OCCUPATIONS - CONTROLS)];
    for (let i = order.length - 1; i > 0; i -= 1) {
      const j = r.index(i + 1);
      [order[i], order[j]] = [order[j], order[i]];
    }
    const count = new Map();
    const occupations = order.map((control, i) => {
      count.set(control, (count.get(control) ?? 0) + 1);
      return {
        control,
        occupation: String(count.get(control)),
        ms: Date.UTC(2026, 2, 4, 6) + 60_000 * (25 * i + r.between(0, 10)),
      };
    });
    return { base, controls, occupations };
  }

  /** What a receiver states for a line of so many metres: 8 mm + 1 ppm in plan, 15 mm + 1 ppm in height, one sigma. */
  const statedSigmas = (distanceM) => {
    const plan = Math.hypot(0.008, 1e-6 * distanceM);
    return [plan, plan, Math.hypot(0.015, 1e-6 * distanceM)];
  };

  /** Student's t with 4 degrees of freedom, scaled to a variance of 1: its kurtosis has no end. */
  const heavy = (r) =>
    (r.normal() / Math.sqrt((r.normal() ** 2 + r.normal() ** 2 + r.normal() ** 2 + r.normal() ** 2) / 4)) *
    Math.SQRT1_2;
  /** Shares of the stated variance; they make 1. */
  const SHARE = { waves: 0.3, wander: 0.2, mark: 0.15, gradient: 0.1, climb: 0.05, heavy: 0.2 };

  /** Errors of every occupation, and what is stated of them; `louder`: how many times larger they are than stated. */
  function noise(r, day, sigmaBase, louder = 1) {
    const baseError = [
      sigmaBase.horizontal * r.normal(),
      sigmaBase.horizontal * r.normal(),
      sigmaBase.vertical * r.normal(),
    ];
    const axes = [0, 1, 2].map(() => ({
      // Three waves of 12 minutes to 4 hours, of any phase.
      waves: [0, 1, 2].map(() => ({ periodS: 720 * 20 ** r.next(), phase: r.between(0, 2 * Math.PI) })),
      wanderS: 180 * 20 ** r.next(),
      wander: r.normal(),
      gradient: r.normal(),
      climb: r.normal(),
    }));
    // Multipath of a mark: the same obstacles at every occupation, seen at other hours.
    const marks = day.controls.map(() =>
      [0, 1, 2].map(() => ({ periodS: r.between(500, 1500), phase: r.between(0, 2 * Math.PI), always: r.normal() })),
    );
    let last = null;
    return day.occupations.map(({ control, ms }) => {
      const at = day.controls[control];
      const line = geodesic.inverse(day.base.latitudeDeg, day.base.longitudeDeg, at.latitudeDeg, at.longitudeDeg);
      const sigmas = statedSigmas(line.distanceM);
      const t = ms / 1000;
      const climbM = at.ellipsoidalHeightM - day.base.ellipsoidalHeightM;
      const enu = axes.map((axis, i) => {
        if (last !== null) {
          const rho = Math.exp(-(ms - last) / 1000 / axis.wanderS);
          axis.wander = rho * axis.wander + Math.sqrt(1 - rho * rho) * r.normal();
        }
        const wave =
          axis.waves.reduce((sum, { periodS, phase }) => sum + Math.sin((2 * Math.PI * t) / periodS + phase), 0) *
          Math.sqrt(2 / 3);
        const mark = marks[control][i];
        const site = Math.SQRT1_2 * mark.always + Math.sin((2 * Math.PI * t) / mark.periodS + mark.phase);
        const unit =
          Math.sqrt(SHARE.waves) * wave +
          Math.sqrt(SHARE.wander) * axis.wander +
          Math.sqrt(SHARE.mark) * site +
          Math.sqrt(SHARE.gradient) * axis.gradient * (line.distanceM / 23_000) +
          Math.sqrt(SHARE.climb) * (i === 2 ? axis.climb * (climbM / 230) : r.normal()) +
          Math.sqrt(SHARE.heavy) * heavy(r);
        return baseError[i] + louder * sigmas[i] * unit + (i < 2 ? SIGMA_POLE * r.normal() : 0);
      });
      last = ms;
      const variance = (axis) =>
        sigmas[axis] ** 2 + (axis < 2 ? SIGMA_POLE ** 2 + sigmaBase.horizontal ** 2 : sigmaBase.vertical ** 2);
      return {
        enu,
        covariance: { eeM2: variance(0), enM2: 0, euM2: 0, nnM2: variance(1), nuM2: 0, uuM2: variance(2) },
        line,
      };
    });
  }

  /** A shift as the search is given it: own frame to another by a translation. */
  function frameShift([x, y, z], ellipsoid, other) {
    return {
      name: 'another datum',
      source: 'stated',
      toOther: (xM, yM, zM, out) => Object.assign(out, { xM: xM + x, yM: yM + y, zM: zM + z }),
      toOwn: (xM, yM, zM, out) => Object.assign(out, { xM: xM - x, yM: yM - y, zM: zM - z }),
      ellipsoid,
      grid: other,
    };
  }

  const moved = (place, vector) => {
    const x = geodeticToGeocentric(place, WGS84);
    return geocentricToGeodetic({ xM: x.xM + vector.xM, yM: x.yM + vector.yM, zM: x.zM + vector.zM }, WGS84);
  };
  const movedLocally = (place, e, n, u) =>
    moved(
      place,
      localToGeocentric(localFrameAt(place.latitudeDeg, place.longitudeDeg), { eastM: e, northM: n, upM: u }),
    );
  /** A known place of the other datum, in the own frame. */
  const toOwnOf = (place, x, y, z, ellipsoid) => {
    const at = geodeticToGeocentric(place, ellipsoid);
    return geocentricToGeodetic({ xM: at.xM - x, yM: at.yM - y, zM: at.zM - z }, WGS84);
  };
  const direction = (r) => {
    const z = r.between(-1, 1);
    const a = r.between(0, 2 * Math.PI);
    return [Math.sqrt(1 - z * z) * Math.cos(a), Math.sqrt(1 - z * z) * Math.sin(a), z];
  };
  const span = (r, n) => {
    const length = 1 + r.index(4);
    const from = r.index(n - length + 1);
    return [from, from + length];
  };

  const SLANT_SIZES_M = [0.02, 0.04, 0.08];
  /** The plate whose slant, taken as vertical, raises everything by `size`; no phase-centre offset is stated. */
  const slantOptions = (size) => {
    const radiusM = 0.1;
    return { offsets: [], plate: { radiusM, offsetM: size - (ANTENNA_M - Math.sqrt(ANTENNA_M ** 2 - radiusM ** 2)) } };
  };
  const plantSlant = (_, size, day) => {
    const vector = localToGeocentric(localFrameAt(day.base.latitudeDeg, day.base.longitudeDeg), {
      eastM: 0,
      northM: 0,
      upM: size,
    });
    return { place: (place) => moved(place, vector) };
  };

  /** Causes: unknowns and like forms of the search's test of them, for the size it can see; sizes, and how the mistake acts on a true position, a grid pair and a height. */
  const PLANTS = {
    'base-coordinate': {
      unknowns: 3,
      forms: 1,
      sizes: [0.1, 0.3, 1],
      unit: 'm',
      plant: (r, size, day) => {
        const [e, n, u] = direction(r);
        const vector = localToGeocentric(localFrameAt(day.base.latitudeDeg, day.base.longitudeDeg), {
          eastM: size * e,
          northM: size * n,
          upM: size * u,
        });
        return { place: (place) => moved(place, vector) };
      },
    },
    'base-antenna-height': {
      unknowns: 1,
      forms: 1,
      sizes: [0.06, 0.15, 0.3],
      unit: 'm',
      plant: (r, size, day) => {
        const vector = localToGeocentric(localFrameAt(day.base.latitudeDeg, day.base.longitudeDeg), {
          eastM: 0,
          northM: 0,
          upM: size * r.sign(),
        });
        return { place: (place) => moved(place, vector) };
      },
    },
    // A slip of this kind is a few centimetres: it is sought on a day whose control lies within 8 km and whose base is
    // known to 5 mm. 'slant-height-far' is the same on a day like the others.
    'slant-height': {
      unknowns: 0,
      forms: 1,
      sizes: SLANT_SIZES_M,
      unit: 'm',
      options: (size) => ({ ...slantOptions(size), reachKm: 8, sigmaBase: { horizontal: 0.005, vertical: 0.005 } }),
      plant: plantSlant,
    },
    'slant-height-far': {
      unknowns: 0,
      forms: 1,
      cause: 'slant-height',
      sizes: SLANT_SIZES_M,
      unit: 'm',
      options: slantOptions,
      plant: plantSlant,
    },
    'pole-length': {
      unknowns: 1,
      forms: 54,
      sizes: [0.1, 0.2, 0.5],
      unit: 'm',
      plant: (r, size) => {
        const up = size * r.sign();
        const from = 1 + r.index(OCCUPATIONS - 2);
        const single = r.next() < 0.5;
        return { place: (place, i) => ((single ? i === from : i >= from) ? movedLocally(place, 0, 0, up) : place) };
      },
    },
    'phase-centre': {
      unknowns: 0,
      forms: 1,
      sizes: [0.05, STATED_OFFSET_M, 0.18],
      unit: 'm',
      options: (size) => ({ offsets: [size] }),
      plant: (r, size) => {
        const up = size * r.sign();
        return { place: (place) => movedLocally(place, 0, 0, up) };
      },
    },
    'height-kind': {
      unknowns: 0,
      forms: 2,
      sizes: [0.3, 3, 30],
      unit: 'm',
      options: (size) => ({ geoid: { mean: size, slope: 0.02 * Math.min(1, size) } }),
      plant: () => ({ height: (height, geoid) => height + geoid }),
    },
    geoid: {
      unknowns: 3,
      forms: 3,
      sizes: [5, 15, 40],
      unit: 'ppm',
      options: (size) => ({ geoid: { mean: 28, slope: size / 1000 } }),
      plant: (r, size, day, shape) => {
        if (r.next() < 0.5) {
          const one = geoidAt(day.base.latitudeDeg, day.base.longitudeDeg, shape);
          return { height: (height, geoid) => height + geoid - one };
        }
        const a = r.between(0, 2 * Math.PI);
        return {
          height: (height, _, place) =>
            height +
            size *
              1e-3 *
              ((place.longitudeDeg - 21.4) * 94.8 * Math.sin(a) + (place.latitudeDeg + 31.6) * 111 * Math.cos(a)),
        };
      },
    },
    // The largest is a datum of triangulation on an ellipsoid of its own, the others one on the ellipsoid of the grid.
    datum: {
      unknowns: 0,
      forms: 12,
      sizes: [1, 10, 340],
      unit: 'm',
      options: (size) => {
        const vector = STATED_SHIFT.map((value) => (value * size) / Math.hypot(...STATED_SHIFT));
        return {
          vector,
          shift: size < 300 ? frameShift(vector, WGS84, null) : frameShift(vector, CLARKE_1880_ARC, oldGrid),
        };
      },
      plant: (r, _, __, ___, { vector: [x, y, z], shift }) => {
        const form = r.index(shift.grid === null ? 2 : 3);
        if (form === 0) return { place: (place) => toOwnOf(place, x, y, z, shift.ellipsoid) };
        const toOther = (place) => {
          const at = geodeticToGeocentric(place, WGS84);
          return geocentricToGeodetic({ xM: at.xM + x, yM: at.yM + y, zM: at.zM + z }, shift.ellipsoid);
        };
        return form === 1 ? { place: toOther } : { place: toOther, forward: shift.grid.forward };
      },
    },
    epoch: {
      unknowns: 1,
      forms: 3,
      sizes: [3, 8, 25],
      unit: 'years',
      plant: (r, size) => {
        const years = size * r.sign();
        return {
          place: (place) =>
            geocentricToGeodetic(movePoint(geodeticToGeocentric(place, WGS84), nubia, 2026, 2026 + years), WGS84),
        };
      },
    },
    zone: {
      unknowns: 0,
      forms: 12,
      sizes: [1, 2, 3],
      unit: 'zones',
      plant: (r, size) => {
        const other = zone(21 + 2 * size * r.sign());
        return { forward: other.forward };
      },
    },
    axes: {
      unknowns: 0,
      forms: 5,
      sizes: [1, 2, 3],
      unit: 'form',
      plant: (_, size) => ({
        pair: (first, second) => (size === 1 ? [-first, second] : size === 2 ? [first, -second] : [second, first]),
      }),
    },
    shortened: {
      unknowns: 0,
      forms: 2,
      sizes: [1, 2, 3],
      unit: 'form',
      plant: (r, size) => {
        // Whole kilometres off both, off one alone, or whatever stands before the hundred thousands of each.
        const constants = [1000 * (1 + r.index(60)), 1000 * (1 + r.index(3400))];
        if (size === 3) return { pair: (first, second) => [first % 100_000, second % 100_000] };
        return { pair: (first, second) => [first - (size === 1 ? constants[0] : 0), second - constants[1]] };
      },
    },
    'site-system': {
      unknowns: 4,
      forms: 1,
      sizes: [2, 20, 36_000],
      unit: 'arcsec',
      plant: (r, size, day) => {
        const about = { first: 0, second: 0 };
        grid.forward(day.base.latitudeDeg, day.base.longitudeDeg, about);
        const turn = (r.sign() * size * Math.PI) / 648_000;
        const scale = 1 + 50e-6 * r.normal();
        const [cos, sin] = [scale * Math.cos(turn), scale * Math.sin(turn)];
        const shift = [20 * r.normal(), 20 * r.normal()];
        return {
          pair: (first, second) => {
            const [x, y] = [first - about.first, second - about.second];
            return [about.first + cos * x - sin * y + shift[0], about.second + sin * x + cos * y + shift[1]];
          },
        };
      },
    },
    feet: {
      unknowns: 0,
      forms: 14,
      sizes: [1, 2, 3],
      unit: 'form',
      plant: (_, size) => {
        if (size === 1)
          return { pair: (first, second) => [first / (0.3048 / (1200 / 3937)), second / (0.3048 / (1200 / 3937))] };
        if (size === 2) return { height: (height) => height / 0.3048 };
        return { pair: (first, second) => [first / 0.3048, second / 0.3048], height: (height) => height / 0.3048 };
      },
    },
    'degrees-minutes': {
      unknowns: 0,
      forms: 2,
      sizes: [1, 2, 3],
      unit: 'form',
      plant: (r, size) => {
        const minutes = (angle) =>
          Math.sign(angle) * (Math.floor(Math.abs(angle)) + ((Math.abs(angle) % 1) * 60) / 100);
        const seconds = (angle) => {
          const m = (Math.abs(angle) % 1) * 60;
          return Math.sign(angle) * (Math.floor(Math.abs(angle)) + Math.floor(m) / 100 + ((m % 1) * 60) / 10_000);
        };
        const misread = size === 1 || (size === 3 && r.next() < 0.5) ? minutes : seconds;
        return {
          place: (place) => ({
            ...place,
            latitudeDeg: misread(place.latitudeDeg),
            longitudeDeg: misread(place.longitudeDeg),
          }),
        };
      },
    },
    'ground-distances': {
      unknowns: 2,
      forms: 12,
      sizes: [30, 150, 500],
      unit: 'ppm',
      options: (size) => ({ factor: 1 - size * 1e-6 }),
      plant: (r, size, day) => {
        const origin = { first: 0, second: 0 };
        if (r.next() < 0.5) grid.forward(day.base.latitudeDeg, day.base.longitudeDeg, origin);
        const scale = 1 / (1 - size * 1e-6);
        return {
          pair: (first, second) => [
            origin.first + (first - origin.first) * scale,
            origin.second + (second - origin.second) * scale,
          ],
        };
      },
    },
    'distance-scale': {
      unknowns: 2,
      forms: 3,
      ordinary: 0.5,
      sizes: [2, 5, 12],
      unit: 'ppm',
      plant: (r, size, day) => {
        const s = r.sign() * size * 1e-6;
        const u = r.sign() * size * 1e-6;
        return {
          place: (place) => {
            const line = geodesic.inverse(
              day.base.latitudeDeg,
              day.base.longitudeDeg,
              place.latitudeDeg,
              place.longitudeDeg,
            );
            const to = geodesic.direct(
              day.base.latitudeDeg,
              day.base.longitudeDeg,
              line.azimuthDeg,
              line.distanceM * (1 + s),
            );
            return {
              latitudeDeg: to.latitudeDeg,
              longitudeDeg: to.longitudeDeg,
              ellipsoidalHeightM: place.ellipsoidalHeightM + u * line.distanceM,
            };
          },
        };
      },
    },
    'height-scale': {
      unknowns: 1,
      forms: 1,
      ordinary: 20,
      sizes: [80, 200, 400],
      unit: 'ppm',
      plant: (r, size, day) => {
        const s = r.sign() * size * 1e-6;
        return {
          place: (place) => movedLocally(place, 0, 0, s * (place.ellipsoidalHeightM - day.base.ellipsoidalHeightM)),
        };
      },
    },
    'wrong-integer': {
      unknowns: 3,
      forms: 162,
      sizes: [0.06, 0.12, 0.4],
      unit: 'm',
      plant: (r, size) => {
        const [e, n, u] = direction(r);
        const [from, to] = span(r, OCCUPATIONS);
        return {
          place: (place, i) => (i >= from && i < to ? movedLocally(place, size * e, size * n, size * u) : place),
        };
      },
    },
    misidentified: {
      unknowns: 0,
      forms: 198,
      sizes: [0.3, 3, 30],
      unit: 'm',
      options: (size) => ({ pairM: size }),
      plant: (r, _, day) => {
        const at = day.occupations.findIndex(({ control }) => control === 0);
        return { place: (place, i) => (i === at ? day.controls[1] : place) };
      },
    },
    'control-coordinate': {
      unknowns: 3,
      forms: 36,
      sizes: [0.06, 0.2, 3],
      unit: 'm',
      plant: (r, size) => {
        const [e, n, u] = direction(r);
        const control = r.index(CONTROLS);
        return {
          place: (place, _, at) => (at === control ? movedLocally(place, size * e, size * n, size * u) : place),
        };
      },
    },
    'names-exchanged': {
      unknowns: 0,
      forms: 132,
      sizes: [0.3, 3, 30],
      unit: 'm',
      options: (size) => ({ pairM: size }),
      plant: (_, __, day) => ({ place: (place, ___, at) => (at < 2 ? day.controls[1 - at] : place) }),
    },
    noise: {
      unknowns: 1,
      forms: 3,
      sizes: [1.5, 2, 3],
      unit: 'times',
      options: (size) => ({ louder: size }),
      plant: () => ({}),
    },
    tilt: {
      unknowns: 3,
      forms: 18,
      sizes: [2, 5, 12],
      unit: 'deg',
      // A pole held to its bubble does not lean by 12 degrees: there the tilt was measured and not taken off.
      options: (size) => ({ isTiltMeasured: size > 5 }),
      plant: (r, size) => {
        const at = r.index(OCCUPATIONS);
        const lean = (size * Math.PI) / 180;
        const a = r.between(0, 2 * Math.PI);
        return {
          place: (place, i) =>
            i === at
              ? movedLocally(
                  place,
                  POLE_M * Math.sin(lean) * Math.sin(a),
                  POLE_M * Math.sin(lean) * Math.cos(a),
                  -POLE_M * (1 - Math.cos(lean)),
                )
              : place,
        };
      },
    },
  };

  /** What the points of a base without a sigma state: their own part. */
  const withoutBase = (covariance, { horizontal, vertical }) => ({
    ...covariance,
    eeM2: covariance.eeM2 - horizontal ** 2,
    nnM2: covariance.nnM2 - horizontal ** 2,
    uuM2: covariance.uuM2 - vertical ** 2,
  });

  function causeDay(r, options, plantOf) {
    const day = layout(r, options);
    const shape = options.geoid ?? { mean: 28, slope: 0.02 };
    const mistake = plantOf(r, day, shape);
    const sigmaBase = options.sigmaBase ?? SIGMA_BASE;
    const noises = noise(r, day, sigmaBase, options.louder);
    const controlErrors = day.controls.map(() => [
      SIGMA_CONTROL.horizontal * r.normal(),
      SIGMA_CONTROL.horizontal * r.normal(),
      SIGMA_CONTROL.vertical * r.normal(),
    ]);
    const points = day.occupations.map(({ control, occupation, ms }, i) => {
      const truth = day.controls[control];
      const geoid = geoidAt(truth.latitudeDeg, truth.longitudeDeg, shape);
      const known = {
        first: 0,
        second: 0,
        pointScaleFactor: null,
        convergenceDeg: 0,
        meridianScaleFactor: 0,
        parallelScaleFactor: 0,
      };
      grid.forwardWithFactors(truth.latitudeDeg, truth.longitudeDeg, known);
      const knownHeight = truth.ellipsoidalHeightM - geoid;
      const { enu, covariance, line } = noises[i];
      // The mistake acts on the true position; noise after it, so that a mistaken reading keeps its noise.
      const mistaken = mistake.place?.(truth, i, control) ?? truth;
      const pair = { first: 0, second: 0 };
      (mistake.forward ?? grid.forward)(mistaken.latitudeDeg, mistaken.longitudeDeg, pair);
      const [first, second] = mistake.pair?.(pair.first, pair.second) ?? [pair.first, pair.second];
      const height = mistaken.ellipsoidalHeightM - geoid;
      const written = mistake.height?.(height, geoid, truth) ?? height;
      const [ce, cn, cu] = controlErrors[control];
      return {
        pointId: truth.id,
        occupation,
        eastM: -(first - known.first) + (options.isQuiet ? 0 : enu[0] - ce),
        northM: -(second - known.second) + (options.isQuiet ? 0 : enu[1] - cn),
        upM: written - knownHeight + (options.isQuiet ? 0 : enu[2] - cu),
        latitudeDeg: truth.latitudeDeg,
        longitudeDeg: truth.longitudeDeg,
        convergenceDeg: known.convergenceDeg,
        pointScaleFactor: known.pointScaleFactor,
        combinedFactor: options.factor ?? known.pointScaleFactor * (1 - truth.ellipsoidalHeightM / 6371000),
        knownFirstM: known.first,
        knownSecondM: known.second,
        knownHeightM: knownHeight,
        geoidHeightM: geoid,
        baseId: 'B1',
        distanceM: line.distanceM,
        azimuthDeg: (line.reverseAzimuthDeg + 180) % 360,
        heightDifferenceM: truth.ellipsoidalHeightM - day.base.ellipsoidalHeightM,
        middleMs: options.hides === 'times' ? null : ms,
        poleLengthM: POLE_M,
        covariance: options.hides === 'base' ? withoutBase(covariance, sigmaBase) : covariance,
        controlHorizontalM2: SIGMA_CONTROL.horizontal ** 2,
        controlVerticalM2: SIGMA_CONTROL.vertical ** 2,
      };
    });
    return {
      points,
      heightKind: 'orthometric',
      bases: new Map([
        [
          'B1',
          {
            ...day.base,
            sigmaHorizontalM: options.hides === 'base' ? null : sigmaBase.horizontal,
            sigmaVerticalM: options.hides === 'base' ? null : sigmaBase.vertical,
            antenna: { kind: 'vertical', heightM: ANTENNA_M, verticalM: ANTENNA_M, plates: [options.plate ?? PLATE] },
          },
        ],
      ]),
      axisSigns: [-1, -1],
      metresPerUnit: 1,
      // What the search believes; the errors know nothing of it.
      correlationHorizontalS: 600,
      correlationVerticalS: 2200,
      isTiltMeasured: options.isTiltMeasured ?? false,
      largestLeanDeg: null,
      geoidSigmaM: 0,
      phaseCentreOffsetsM: options.offsets ?? [STATED_OFFSET_M],
      frameShifts: [options.shift ?? frameShift(STATED_SHIFT, WGS84, null)],
      ellipsoid: WGS84,
      forward: grid.forward,
      inverse: grid.inverse,
      otherZones,
    };
  }

  const causes = Object.entries(PLANTS).map(([name, { cause, sizes, unit, ...test }]) => ({
    name,
    cause: cause ?? name,
    sizes,
    unit,
    unknowns: test.unknowns,
    forms: test.forms,
    ordinary: test.ordinary,
  }));
  return {
    causes,
    /** A day with one planted; `isQuiet`: the mistake alone, without the errors. */
    planted: (name, size, seed, isQuiet = false) => {
      const { options: optionsOf, plant } = PLANTS[name];
      const options = { ...optionsOf?.(size), isQuiet };
      return causeDay(random(seed * 7919), options, (r, day, shape) => plant(r, size, day, shape, options));
    },
    /** A day without a mistake, its errors so many times larger than stated; `hides`: what the points or the session do not say, `times` or `base` (its sigmas, in those of the points too). */
    clean: (seed, louder = 1, hides = null) => causeDay(random(seed * 7919), { louder, hides }, () => ({})),
    /** Two single blunders: each one of `names`, at two occupations. */
    pair: (names, sizes, seed) => {
      const r = random(seed * 7919);
      return causeDay(r, {}, (_, day, shape) => {
        const [a, b] = names.map((name, i) => PLANTS[name].plant(r, sizes[i], day, shape, {}));
        return { place: (place, i, at) => b.place(a.place(place, i, at), i, at) };
      });
    },
  };
}
