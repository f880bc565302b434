// Invented days with one mistake planted, for tools/cause-rates.mjs and the test of its rates.

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
  return { next, normal, between: (low, high) => low + (high - low) * next(), index: (n) => Math.floor(next() * n), sign: () => (next() < 0.5 ? -1 : 1) };
}

/**
 * Days made with the core's own functions, handed in so that the tool can use the built ones and the test the sources.
 * Returned: the causes that can be planted with their sizes; a day with one planted; a day without a mistake.
 */
export function createCauseDays(core) {
  const { CLARKE_1880_ARC, PLATE_POLES, WGS84, buildGridSystem, createGeodesic, createPrecisionModel, definitionFromProjString, geocentricToGeodetic, geodeticToGeocentric, localFrameAt, localToGeocentric, movePoint } = core;
  const geodesic = createGeodesic(WGS84);
  const precision = createPrecisionModel({ conditions: 'normal', horizontal: null, vertical: null, combine: 'rss', correlationHorizontalS: null, correlationVerticalS: null });
  const zone = (longitudeDeg, figure = '+ellps=WGS84') => take(buildGridSystem(take(definitionFromProjString(`+proj=tmerc +lat_0=0 +lon_0=${longitudeDeg} +k=1 +x_0=0 +y_0=0 +axis=wsu ${figure} +units=m +no_defs`)), null));
  const oldGrid = zone(21, '+a=6378249.145 +rf=293.4663077');
  const grid = zone(21);
  const otherZones = [-3, -2, -1, 1, 2, 3].map((steps) => ({ name: `central meridian ${21 + 2 * steps}`, forward: zone(21 + 2 * steps).forward }));
  const nubia = PLATE_POLES.find((pole) => pole.code === 'NUBI');

  // An invented geoid: a plane and a bump, metres. `scale` makes its mean, `slope` its variation.
  const geoidAt = (lat, lon, shape) => shape.mean + shape.slope * ((lon - 21.4) * 94 + 0.6 * (lat + 31.6) * 111 + 8 * Math.sin((lon - 21.2) * 9) * Math.cos((lat + 31.5) * 7));

  /** A day: base, controls, occupations with times; nothing measured yet. */
  function layout(r, options) {
    const base = { latitudeDeg: -31.6, longitudeDeg: 21.4, ellipsoidalHeightM: options.heightM ?? 1040 };
    const controls = [];
    for (let i = 0; i < CONTROLS; i += 1) {
      const to = geodesic.direct(base.latitudeDeg, base.longitudeDeg, r.between(0, 360), 1000 * r.between(1, options.reachKm ?? 40));
      controls.push({ id: `C${i + 1}`, latitudeDeg: to.latitudeDeg, longitudeDeg: to.longitudeDeg, ellipsoidalHeightM: base.ellipsoidalHeightM + r.between(-400, 400) });
    }
    if (options.pairM !== undefined) {
      const to = geodesic.direct(controls[0].latitudeDeg, controls[0].longitudeDeg, r.between(0, 360), options.pairM);
      controls[1] = { ...controls[1], latitudeDeg: to.latitudeDeg, longitudeDeg: to.longitudeDeg, ellipsoidalHeightM: controls[0].ellipsoidalHeightM + 0.05 * options.pairM * r.normal() };
    }
    const order = [...controls.keys(), ...[...controls.keys()].slice(0, OCCUPATIONS - CONTROLS)];
    for (let i = order.length - 1; i > 0; i -= 1) {
      const j = r.index(i + 1);
      [order[i], order[j]] = [order[j], order[i]];
    }
    const count = new Map();
    const occupations = order.map((control, i) => {
      count.set(control, (count.get(control) ?? 0) + 1);
      return { control, occupation: String(count.get(control)), ms: Date.UTC(2026, 2, 4, 6) + 60_000 * (25 * i + r.between(0, 10)) };
    });
    return { base, controls, occupations };
  }

  /** Noise of every occupation: base, slow error as a first-order process in time, white noise, pole. */
  function noise(r, day, sigmaBase) {
    const baseError = [sigmaBase.horizontal * r.normal(), sigmaBase.horizontal * r.normal(), sigmaBase.vertical * r.normal()];
    const slow = [r.normal(), r.normal(), r.normal()];
    let last = null;
    return day.occupations.map(({ control, ms }) => {
      const at = day.controls[control];
      const line = geodesic.inverse(day.base.latitudeDeg, day.base.longitudeDeg, at.latitudeDeg, at.longitudeDeg);
      const predicted = precision.at(line.distanceM, at.ellipsoidalHeightM - day.base.ellipsoidalHeightM);
      const taus = [predicted.correlationHorizontalS, predicted.correlationHorizontalS, predicted.correlationVerticalS];
      const sigmas = [predicted.horizontal.totalM, predicted.horizontal.totalM, predicted.vertical.totalM];
      const enu = slow.map((value, axis) => {
        if (last !== null) {
          const rho = Math.exp(-(ms - last) / 1000 / taus[axis]);
          slow[axis] = rho * value + Math.sqrt(1 - rho * rho) * r.normal();
        }
        const white = 0.25 * sigmas[axis] * r.normal();
        return baseError[axis] + sigmas[axis] * slow[axis] + white + (axis < 2 ? SIGMA_POLE * r.normal() : 0);
      });
      last = ms;
      const variance = (axis) => 1.0625 * sigmas[axis] ** 2 + (axis < 2 ? SIGMA_POLE ** 2 + sigmaBase.horizontal ** 2 : sigmaBase.vertical ** 2);
      return { enu, covariance: { eeM2: variance(0), enM2: 0, euM2: 0, nnM2: variance(1), nuM2: 0, uuM2: variance(2) }, line };
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
  const movedLocally = (place, e, n, u) => moved(place, localToGeocentric(localFrameAt(place.latitudeDeg, place.longitudeDeg), { eastM: e, northM: n, upM: u }));
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
    const vector = localToGeocentric(localFrameAt(day.base.latitudeDeg, day.base.longitudeDeg), { eastM: 0, northM: 0, upM: size });
    return { place: (place) => moved(place, vector) };
  };

  /** Causes: sizes, and how the mistake acts on a true position, a grid pair and a height. */
  const PLANTS = {
    'base-coordinate': {
      sizes: [0.1, 0.3, 1], unit: 'm',
      plant: (r, size, day) => {
        const [e, n, u] = direction(r);
        const vector = localToGeocentric(localFrameAt(day.base.latitudeDeg, day.base.longitudeDeg), { eastM: size * e, northM: size * n, upM: size * u });
        return { place: (place) => moved(place, vector) };
      },
    },
    'base-antenna-height': {
      sizes: [0.06, 0.15, 0.3], unit: 'm',
      plant: (r, size, day) => {
        const vector = localToGeocentric(localFrameAt(day.base.latitudeDeg, day.base.longitudeDeg), { eastM: 0, northM: 0, upM: size * r.sign() });
        return { place: (place) => moved(place, vector) };
      },
    },
    // A slip of this kind is a few centimetres: it is sought on a day whose control lies within 8 km and whose base is
    // known to 5 mm. 'slant-height-far' is the same on a day like the others.
    'slant-height': { sizes: SLANT_SIZES_M, unit: 'm', options: (size) => ({ ...slantOptions(size), reachKm: 8, sigmaBase: { horizontal: 0.005, vertical: 0.005 } }), plant: plantSlant },
    'slant-height-far': { cause: 'slant-height', sizes: SLANT_SIZES_M, unit: 'm', options: slantOptions, plant: plantSlant },
    'pole-length': {
      sizes: [0.1, 0.2, 0.5], unit: 'm',
      plant: (r, size) => {
        const up = size * r.sign();
        const from = 1 + r.index(OCCUPATIONS - 2);
        const single = r.next() < 0.5;
        return { place: (place, i) => ((single ? i === from : i >= from) ? movedLocally(place, 0, 0, up) : place) };
      },
    },
    'phase-centre': {
      sizes: [0.05, STATED_OFFSET_M, 0.18], unit: 'm',
      options: (size) => ({ offsets: [size] }),
      plant: (r, size) => {
        const up = size * r.sign();
        return { place: (place) => movedLocally(place, 0, 0, up) };
      },
    },
    'height-kind': {
      sizes: [0.3, 3, 30], unit: 'm',
      options: (size) => ({ geoid: { mean: size, slope: 0.02 * Math.min(1, size) } }),
      plant: () => ({ height: (height, geoid) => height + geoid }),
    },
    geoid: {
      sizes: [5, 15, 40], unit: 'ppm',
      options: (size) => ({ geoid: { mean: 28, slope: size / 1000 } }),
      plant: (r, size, day, shape) => {
        if (r.next() < 0.5) {
          const one = geoidAt(day.base.latitudeDeg, day.base.longitudeDeg, shape);
          return { height: (height, geoid) => height + geoid - one };
        }
        const a = r.between(0, 2 * Math.PI);
        return { height: (height, _, place) => height + size * 1e-3 * ((place.longitudeDeg - 21.4) * 94.8 * Math.sin(a) + (place.latitudeDeg + 31.6) * 111 * Math.cos(a)) };
      },
    },
    // The largest is a datum of triangulation on an ellipsoid of its own, the others one on the ellipsoid of the grid.
    datum: {
      sizes: [1, 10, 340], unit: 'm',
      options: (size) => {
        const vector = STATED_SHIFT.map((value) => (value * size) / Math.hypot(...STATED_SHIFT));
        return { vector, shift: size < 300 ? frameShift(vector, WGS84, null) : frameShift(vector, CLARKE_1880_ARC, oldGrid) };
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
      sizes: [3, 8, 25], unit: 'years',
      plant: (r, size) => {
        const years = size * r.sign();
        return { place: (place) => geocentricToGeodetic(movePoint(geodeticToGeocentric(place, WGS84), nubia, 2026, 2026 + years), WGS84) };
      },
    },
    zone: {
      sizes: [1, 2, 3], unit: 'zones',
      plant: (r, size) => {
        const other = zone(21 + 2 * size * r.sign());
        return { forward: other.forward };
      },
    },
    axes: {
      sizes: [1, 2, 3], unit: 'form',
      plant: (_, size) => ({ pair: (first, second) => (size === 1 ? [-first, second] : size === 2 ? [first, -second] : [second, first]) }),
    },
    feet: {
      sizes: [1, 2, 3], unit: 'form',
      plant: (_, size) => {
        if (size === 1) return { pair: (first, second) => [first / (0.3048 / (1200 / 3937)), second / (0.3048 / (1200 / 3937))] };
        if (size === 2) return { height: (height) => height / 0.3048 };
        return { pair: (first, second) => [first / 0.3048, second / 0.3048], height: (height) => height / 0.3048 };
      },
    },
    'degrees-minutes': {
      sizes: [1, 2, 3], unit: 'form',
      plant: (r, size) => {
        const minutes = (angle) => Math.sign(angle) * (Math.floor(Math.abs(angle)) + ((Math.abs(angle) % 1) * 60) / 100);
        const seconds = (angle) => {
          const m = (Math.abs(angle) % 1) * 60;
          return Math.sign(angle) * (Math.floor(Math.abs(angle)) + Math.floor(m) / 100 + ((m % 1) * 60) / 10_000);
        };
        const misread = size === 1 || (size === 3 && r.next() < 0.5) ? minutes : seconds;
        return { place: (place) => ({ ...place, latitudeDeg: misread(place.latitudeDeg), longitudeDeg: misread(place.longitudeDeg) }) };
      },
    },
    'ground-distances': {
      sizes: [30, 150, 500], unit: 'ppm',
      options: (size) => ({ factor: 1 - size * 1e-6 }),
      plant: (r, size, day) => {
        const origin = { first: 0, second: 0 };
        if (r.next() < 0.5) grid.forward(day.base.latitudeDeg, day.base.longitudeDeg, origin);
        const scale = 1 / (1 - size * 1e-6);
        return { pair: (first, second) => [origin.first + (first - origin.first) * scale, origin.second + (second - origin.second) * scale] };
      },
    },
    'distance-scale': {
      sizes: [2, 5, 12], unit: 'ppm',
      plant: (r, size, day) => {
        const s = r.sign() * size * 1e-6;
        const u = r.sign() * size * 1e-6;
        return {
          place: (place) => {
            const line = geodesic.inverse(day.base.latitudeDeg, day.base.longitudeDeg, place.latitudeDeg, place.longitudeDeg);
            const to = geodesic.direct(day.base.latitudeDeg, day.base.longitudeDeg, line.azimuthDeg, line.distanceM * (1 + s));
            return { latitudeDeg: to.latitudeDeg, longitudeDeg: to.longitudeDeg, ellipsoidalHeightM: place.ellipsoidalHeightM + u * line.distanceM };
          },
        };
      },
    },
    'height-scale': {
      sizes: [80, 200, 400], unit: 'ppm',
      plant: (r, size, day) => {
        const s = r.sign() * size * 1e-6;
        return { place: (place) => movedLocally(place, 0, 0, s * (place.ellipsoidalHeightM - day.base.ellipsoidalHeightM)) };
      },
    },
    'wrong-integer': {
      sizes: [0.06, 0.12, 0.4], unit: 'm',
      plant: (r, size) => {
        const [e, n, u] = direction(r);
        const [from, to] = span(r, OCCUPATIONS);
        return { place: (place, i) => (i >= from && i < to ? movedLocally(place, size * e, size * n, size * u) : place) };
      },
    },
    misidentified: {
      sizes: [0.3, 3, 30], unit: 'm',
      options: (size) => ({ pairM: size }),
      plant: (r, _, day) => {
        const at = day.occupations.findIndex(({ control }) => control === 0);
        return { place: (place, i) => (i === at ? day.controls[1] : place) };
      },
    },
    tilt: {
      sizes: [2, 5, 12], unit: 'deg',
      plant: (r, size) => {
        const at = r.index(OCCUPATIONS);
        const lean = (size * Math.PI) / 180;
        const a = r.between(0, 2 * Math.PI);
        return { place: (place, i) => (i === at ? movedLocally(place, POLE_M * Math.sin(lean) * Math.sin(a), POLE_M * Math.sin(lean) * Math.cos(a), -POLE_M * (1 - Math.cos(lean))) : place) };
      },
    },
  };

  function causeDay(r, options, plantOf) {
    const day = layout(r, options);
    const shape = options.geoid ?? { mean: 28, slope: 0.02 };
    const mistake = plantOf(r, day, shape);
    const sigmaBase = options.sigmaBase ?? SIGMA_BASE;
    const noises = noise(r, day, sigmaBase);
    const controlErrors = day.controls.map(() => [SIGMA_CONTROL.horizontal * r.normal(), SIGMA_CONTROL.horizontal * r.normal(), SIGMA_CONTROL.vertical * r.normal()]);
    const points = day.occupations.map(({ control, occupation, ms }, i) => {
      const truth = day.controls[control];
      const geoid = geoidAt(truth.latitudeDeg, truth.longitudeDeg, shape);
      const known = { first: 0, second: 0, pointScaleFactor: null, convergenceDeg: 0, meridianScaleFactor: 0, parallelScaleFactor: 0 };
      grid.forwardWithFactors(truth.latitudeDeg, truth.longitudeDeg, known);
      const knownHeight = truth.ellipsoidalHeightM - geoid;
      const { enu, covariance, line } = noises[i];
      // The mistake acts on the true position; noise after it, so that a mistaken reading keeps its noise.
      const mistaken = mistake.place?.(truth, i) ?? truth;
      const pair = { first: 0, second: 0 };
      (mistake.forward ?? grid.forward)(mistaken.latitudeDeg, mistaken.longitudeDeg, pair);
      const [first, second] = mistake.pair?.(pair.first, pair.second) ?? [pair.first, pair.second];
      const height = mistaken.ellipsoidalHeightM - geoid;
      const written = mistake.height?.(height, geoid, truth) ?? height;
      const [ce, cn, cu] = controlErrors[control];
      return {
        pointId: truth.id,
        occupation,
        eastM: -(first - known.first) + enu[0] - ce,
        northM: -(second - known.second) + enu[1] - cn,
        upM: written - knownHeight + enu[2] - cu,
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
        middleMs: ms,
        poleLengthM: POLE_M,
        covariance,
        controlHorizontalM2: SIGMA_CONTROL.horizontal ** 2,
        controlVerticalM2: SIGMA_CONTROL.vertical ** 2,
      };
    });
    return {
      points,
      heightKind: 'orthometric',
      bases: new Map([['B1', { ...day.base, sigmaHorizontalM: sigmaBase.horizontal, sigmaVerticalM: sigmaBase.vertical, antenna: { kind: 'vertical', heightM: ANTENNA_M, verticalM: ANTENNA_M, plates: [options.plate ?? PLATE] } }]]),
      axisSign: -1,
      metresPerUnit: 1,
      correlationHorizontalS: 600,
      correlationVerticalS: 2200,
      geoidSigmaM: 0,
      phaseCentreOffsetsM: options.offsets ?? [STATED_OFFSET_M],
      frameShifts: [options.shift ?? frameShift(STATED_SHIFT, WGS84, null)],
      ellipsoid: WGS84,
      forward: grid.forward,
      inverse: grid.inverse,
      otherZones,
    };
  }

  const causes = Object.entries(PLANTS).map(([name, { cause, sizes, unit }]) => ({ name, cause: cause ?? name, sizes, unit }));
  return {
    causes,
    planted: (name, size, seed) => {
      const { options: optionsOf, plant } = PLANTS[name];
      const options = optionsOf?.(size) ?? {};
      return causeDay(random(seed * 7919), options, (r, day, shape) => plant(r, size, day, shape, options));
    },
    clean: (seed) => causeDay(random(seed * 7919), {}, () => ({})),
  };
}
