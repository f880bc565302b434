import { axesAt, geocentricOf, geodeticOf, inventedGeoidM, moved, placeFrom } from './earth.mjs';
import { STATED, fastNoiseAt, slowErrorAt } from './error-model.mjs';
import { RADIANS_PER_DEGREE, cos, sin } from './exact-arithmetic.mjs';
import { createSlowError } from './random.mjs';

/** Milliseconds since 1970 of a time of day in UTC. */
export function timeMs(date, timeOfDay) {
  return Date.parse(`${date}T${timeOfDay}Z`);
}

/** A base as it truly stands, as it broadcasts, and as the session will know it: truth and a stated error. */
export function simulateBase(settings, plan, random) {
  const mark = placeFrom(plan.origin, settings.km, settings.azimuthDeg, settings.heightM);
  const { kind, heightM, radiusM, offsetM } = settings.antenna;
  const riseM = kind === 'vertical' ? heightM : Math.sqrt(heightM * heightM - radiusM * radiusM) - offsetM;
  const axes = axesAt(mark.latitudeDeg, mark.longitudeDeg);
  const arp = geocentricOf({ ...mark, ellipsoidalHeightM: mark.ellipsoidalHeightM + riseM });
  const horizontal = STATED.baseHorizontalM;
  const known = geodeticOf(
    moved(
      geocentricOf(mark),
      axes,
      horizontal * random.normal(),
      horizontal * random.normal(),
      STATED.baseVerticalM * random.normal(),
    ),
  );
  const broadcast = roundedPlace(geodeticOf(moved(arp, axes, ...settings.broadcastOffM)));
  return { settings, mark, arp, known, broadcast, broadcastArp: geocentricOf(broadcast) };
}

/** A point as it truly is. `geoidErrorM`: true geoid height minus that of the grid file. */
export function simulatePoint(settings, plan, geoidErrorM) {
  const place = placeFrom(plan.origin, settings.km, settings.azimuthDeg, settings.heightM);
  const geoidHeightM = inventedGeoidM(place.latitudeDeg, place.longitudeDeg) + geoidErrorM;
  return {
    settings,
    place,
    tip: geocentricOf(place),
    geoidHeightM,
    orthometricHeightM: place.ellipsoidalHeightM - geoidHeightM,
  };
}

/**
 * The fixes of one stand. `slow` keeps the slow errors of each point and base from one stand to the
 * next: a repeat sees what is left of them after the hours between.
 */
export function simulateStand(stand, point, base, plan, random, slow) {
  const axes = axesAt(point.place.latitudeDeg, point.place.longitudeDeg);
  const baseline = baselineOf(point, base);
  const model = slowErrorAt(baseline.distanceM, baseline.heightDifferenceM);
  const fast = fastNoiseAt(baseline.distanceM);
  const lengthM = plan.poleLengthM + STATED.phaseCentreOffsetM + STATED.poleM * random.normal();
  const pole = poleErrors(stand, random);
  const key = `${stand.point} ${stand.base}`;
  if (!slow.has(key)) slow.set(key, slowErrors(random, model));
  const errors = slow.get(key);
  const floating = createSlowError(random, 40);
  const startMs = timeMs(plan.date, stand.time);
  const walkAzimuth = 77 * RADIANS_PER_DEGREE;
  const fixes = [];
  for (let i = 0; i < stand.seconds; i += 1) {
    const epochMs = startMs + 1000 * i;
    const isFloat = within(stand.float, i);
    const isAged = within(stand.aged, i);
    const isPoor = within(stand.poorSky, i);
    const writtenTiltDeg = stand.tilt === undefined ? null : stand.tilt.tiltDeg + 0.2 * sin(0.31 * i);
    const walkM = (stand.walkMetresPerSecond ?? 0) * i;
    const tip = walkM === 0 ? point.tip : moved(point.tip, axes, walkM * sin(walkAzimuth), walkM * cos(walkAzimuth), 0);
    const lever = leverOf(lengthM, writtenTiltDeg, pole);
    const noise = errors(epochMs / 1000);
    const noisier = isPoor ? 3 : 1;
    const error = [0, 1, 2].map(
      (axis) =>
        noise[axis] +
        noisier * (axis === 2 ? fast.verticalM : fast.horizontalM) * random.normal() +
        (stand.wrongFixM?.[axis] ?? 0),
    );
    if (isFloat) for (let axis = 0; axis < 3; axis += 1) error[axis] += (axis === 2 ? 0.5 : 0.3) * floating.at(i);
    if (isAged) error[0] += 0.0012 * (i - stand.aged[0]);
    if (stand.outliers?.includes(i))
      for (let axis = 0; axis < 3; axis += 1) error[axis] += 0.35 + 0.3 * random.uniform();
    const top = moved(tip, axes, lever[0] + error[0], lever[1] + error[1], lever[2] + error[2]);
    const place = geodeticOf({
      x: base.broadcastArp.x + top.x - base.arp.x,
      y: base.broadcastArp.y + top.y - base.arp.y,
      z: base.broadcastArp.z + top.z - base.arp.z,
    });
    fixes.push({
      pointId: stand.point,
      code: point.settings.code,
      epochMs,
      ...roundedPlace(place),
      solution: isFloat ? 'float' : 'fixed',
      correctionAgeS: isAged ? 11 + Math.min(19, i - stand.aged[0]) : rounded(1 + 0.8 * random.uniform(), 1),
      satellitesUsed: isPoor ? 5 : 13 + Math.floor(6 * random.uniform()),
      pdop: rounded(isPoor ? 4.6 + 1.9 * random.uniform() : 1.3 + 0.8 * random.uniform(), 2),
      sigmaEastM: rounded(isFloat ? 0.19 : noisier * fast.horizontalM, 4),
      sigmaNorthM: rounded(isFloat ? 0.17 : noisier * fast.horizontalM, 4),
      sigmaUpM: rounded(isFloat ? 0.34 : noisier * fast.verticalM, 4),
      baseId: stand.base,
      poleLengthM: stand.writtenPoleM ?? plan.poleLengthM,
      tiltDeg: writtenTiltDeg === null ? null : rounded(writtenTiltDeg, 2),
      tiltAzimuthDeg: stand.tilt?.azimuthDeg ?? null,
    });
  }
  return fixes;
}

function within(span, i) {
  return span !== undefined && i >= span[0] && i < span[1];
}

/** Chord and height difference: far closer to the geodesic than the error model needs. */
function baselineOf(point, base) {
  const mark = geocentricOf(base.mark);
  const heightDifferenceM = point.place.ellipsoidalHeightM - base.mark.ellipsoidalHeightM;
  const chord2 = (point.tip.x - mark.x) ** 2 + (point.tip.y - mark.y) ** 2 + (point.tip.z - mark.z) ** 2;
  return { distanceM: Math.sqrt(Math.max(0, chord2 - heightDifferenceM ** 2)), heightDifferenceM };
}

/** How this set-up of the pole differs from what will be written down: drawn once a stand. */
function poleErrors(stand, random) {
  if (stand.tilt === undefined) {
    return {
      east: STATED.plumbDeg * RADIANS_PER_DEGREE * random.normal(),
      north: STATED.plumbDeg * RADIANS_PER_DEGREE * random.normal(),
    };
  }
  return {
    tiltDeg: STATED.tiltDeg * random.normal(),
    azimuthDeg: stand.tilt.azimuthDeg - STATED.tiltAzimuthDeg * random.normal(),
  };
}

/** Top minus tip, east, north, up. Azimuths are of the top seen from the tip. */
function leverOf(lengthM, writtenTiltDeg, pole) {
  if (writtenTiltDeg === null) {
    const up = lengthM * Math.sqrt(1 - pole.east * pole.east - pole.north * pole.north);
    return [lengthM * pole.east, lengthM * pole.north, up];
  }
  const tilt = (writtenTiltDeg - pole.tiltDeg) * RADIANS_PER_DEGREE;
  const azimuth = pole.azimuthDeg * RADIANS_PER_DEGREE;
  return [lengthM * sin(tilt) * sin(azimuth), lengthM * sin(tilt) * cos(azimuth), lengthM * cos(tilt)];
}

/** East, north and up of the slow error, as a function of the time in seconds. */
function slowErrors(random, model) {
  const axes = [model.horizontal, model.horizontal, model.vertical].map(({ constantM, growingM, correlationS }) => ({
    constantM,
    growingM,
    constant: createSlowError(random, correlationS),
    growing: createSlowError(random, correlationS),
  }));
  return (timeS) =>
    axes.map((axis) => axis.constantM * axis.constant.at(timeS) + axis.growingM * axis.growing.at(timeS));
}

export function rounded(value, decimals) {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale;
}

/** As a file holds it: 9 decimals of a degree, 4 of a metre. */
export function roundedPlace({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }) {
  return {
    latitudeDeg: rounded(latitudeDeg, 9),
    longitudeDeg: rounded(longitudeDeg, 9),
    ellipsoidalHeightM: rounded(ellipsoidalHeightM, 4),
  };
}
