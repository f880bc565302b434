// A survey: base set-ups and stands with their true places, realised as the files a surveyor would have.
import { axesAt, fromLocal, minus, placeFrom, plus, toGeocentric, toLocal } from './earth.mjs';
import { SIGMAS_REPORTED_M, WORLD, atmosphereOf, epochErrors, receiverAt } from './world.mjs';

const RADIAN = Math.PI / 180;
const DAY_MS = Date.UTC(2026, 2, 4, 5);
const POLE_M = 2;
const POLE_SIGMA_M = 0.001;
const PLUMB_SIGMA_DEG = 0.1;
const TILT_SIGMA_DEG = 0.3;
const ANTENNA_M = 1.6;
/** Error of measuring an antenna's height and of centring it; part of the sigmas stated for a base, drawn anew with each set-up. */
const SET_UP_SIGMA_M = [0.0015, 0.002];
export const BASE_SIGMAS_M = [0.01, 0.02];
export const CONTROL_SIGMAS_M = [0.006, 0.01];
export const ORIGIN = [-31.5, 21.3, 1040];

const utc = (seconds) => new Date(DAY_MS + 1000 * seconds).toISOString();

/** A mark to set a base up on: where it is, and how wrong its known coordinate is. */
export function markAt(place, random, sigmasM = BASE_SIGMAS_M) {
  const [h, v] = sigmasM.map((sigma, i) => Math.sqrt(Math.max(0, sigma ** 2 - SET_UP_SIGMA_M[i] ** 2)));
  return { place, sigmasM, error: [h * random.normal(), h * random.normal(), v * random.normal()] };
}

/** A set-up over a mark. `broadcastOffsetM`: how far the coordinate sent out was off, along east, north and up. */
export function setUp(
  id,
  mark,
  random,
  { fromS = null, toS = null, broadcastOffsetM = [0.1, -0.2, 0.15], antennaM = ANTENNA_M } = {},
) {
  const [h, v] = SET_UP_SIGMA_M;
  return {
    id,
    mark,
    fromS,
    toS,
    broadcastOffsetM,
    antennaM,
    receiver: receiverAt(random),
    setUpError: [h * random.normal(), h * random.normal(), v * random.normal()],
    statedAntennaOffM: 0,
    statedKnownOff: [0, 0, 0],
  };
}

/** A place within a ring about the origin of the area, higher or lower by up to `reliefM`. */
export function randomPlace(random, nearM, farM, reliefM = 150, origin = ORIGIN) {
  return placeFrom(
    origin,
    random.between(0, 2 * Math.PI),
    random.between(nearM, farM),
    origin[2] + random.between(-reliefM, reliefM),
  );
}

/**
 * One stand: a rover over a place. What stands on it may be planted: `offset` (east, north, up, of every epoch or times
 * `shape(i)` of epoch i), `poleOffM` (true minus stated pole).
 */
export const stand = (pointId, site, base, startS, count, more = {}) => ({
  pointId,
  site,
  base,
  startS,
  count,
  stepS: 1,
  tilt: null,
  offset: [0, 0, 0],
  shape: () => 1,
  poleOffM: 0,
  ...more,
});

/** A site to stand on: its place and what its surroundings do to a receiver. */
export const siteAt = (place, random) => ({ place, receiver: receiverAt(random) });

const HEADER =
  'point_id,epoch_utc,x_m,y_m,z_m,solution,correction_age_s,sigma_east_m,sigma_north_m,sigma_up_m,base_id,pole_length_m,tilt_deg,tilt_azimuth_deg\n';

/**
 * The fixes of a list of stands as CSV.
 * Given: `world` (how it differs from the model), `reported` (whether epochs say their sigmas), `noise` false for none at all.
 */
export function fixesOf(
  stands,
  random,
  {
    world = WORLD,
    isReported = true,
    isNoisy = true,
    air = atmosphereOf(random),
    poleErrorM = isNoisy ? POLE_SIGMA_M * random.normal() : 0,
  } = {},
) {
  const lines = [HEADER];
  for (const one of stands) lines.push(rowsOfStand(one, random, { world, isReported, isNoisy, air, poleErrorM }));
  return lines.join('');
}

function rowsOfStand(one, random, { world, isReported, isNoisy, air, poleErrorM }) {
  const { site, base, startS, stepS, count } = one;
  const axes = axesAt(site.place);
  const tip = toGeocentric(site.place);
  const baseAxes = axesAt(base.mark.place);
  const [east, north, up] = toLocal(baseAxes, minus(tip, toGeocentric(base.mark.place)));
  const distance = Math.hypot(east, north);
  const line = { east, north, distance, heightDifference: up + distance ** 2 / (2 * 6_371_000) };
  const errors = isNoisy
    ? epochErrors({
        world,
        random,
        air,
        baseReceiver: base.receiver,
        roverReceiver: site.receiver,
        line,
        startS,
        stepS,
        count,
      })
    : [0, 1, 2].map(() => new Float64Array(count));
  const { arm, cells } = poleOf(one, random, world, isNoisy, poleErrorM);
  const sent = fromLocal(baseAxes, base.broadcastOffsetM);
  const top = plus(plus(tip, fromLocal(axes, arm)), sent);
  const reported = isReported ? `${SIGMAS_REPORTED_M[0]},${SIGMAS_REPORTED_M[0]},${SIGMAS_REPORTED_M[1]}` : ',,';
  let text = '';
  for (let i = 0; i < count; i += 1) {
    const factor = one.shape(i);
    const [x, y, z] = plus(
      top,
      fromLocal(
        axes,
        one.offset.map((value, axis) => errors[axis][i] + factor * value),
      ),
    );
    text += `${one.pointId},${utc(startS + i * stepS)},${x.toFixed(5)},${y.toFixed(5)},${z.toFixed(5)},fixed,1,${reported},${base.id},${cells}\n`;
  }
  return text;
}

/** The true vector from tip to antenna, and what the log says of it. */
function poleOf(one, random, world, isNoisy, poleErrorM) {
  const length = POLE_M + one.poleOffM + poleErrorM;
  const plumb = isNoisy ? PLUMB_SIGMA_DEG * RADIAN : 0;
  if (one.tilt === null)
    return { arm: [length * plumb * random.normal(), length * plumb * random.normal(), length], cells: `${POLE_M},,` };
  const lean = (one.tilt.deg + (isNoisy ? TILT_SIGMA_DEG * random.normal() : 0)) * RADIAN;
  const azimuth = (one.tilt.azimuthDeg + (isNoisy ? world.compassSigmaDeg * random.normal() : 0)) * RADIAN;
  return {
    arm: [
      length * Math.sin(lean) * Math.sin(azimuth),
      length * Math.sin(lean) * Math.cos(azimuth),
      length * Math.cos(lean),
    ],
    cells: `${POLE_M},${one.tilt.deg.toFixed(2)},${one.tilt.azimuthDeg.toFixed(1)}`,
  };
}

const xyz = ([x, y, z]) => `x_m = ${x.toFixed(5)}, y_m = ${y.toFixed(5)}, z_m = ${z.toFixed(5)}`;

/** The session of these set-ups. `phaseCentreM`: stated offset; `azimuthSigmaDeg`: null leaves it out. */
export function sessionOf(
  bases,
  { geoid = null, azimuthSigmaDeg = 1, phaseCentreM = 0, precision = 'conditions = "normal"', isNoisy = true } = {},
) {
  const set = bases.map((base) => {
    const { mark, setUpError, antennaM, statedAntennaOffM, statedKnownOff } = base;
    const axes = axesAt(mark.place);
    const truth = toGeocentric(mark.place);
    const arp = plus(truth, fromLocal(axes, [0, 0, antennaM]));
    const off = [0, 1, 2].map((i) => (isNoisy ? mark.error[i] + setUpError[i] : 0) + statedKnownOff[i]);
    const known = plus(truth, fromLocal(axes, off));
    const window = base.fromS === null ? '' : `from_utc = "${utc(base.fromS)}"\nto_utc = "${utc(base.toS)}"\n`;
    return `[[base]]\nid = "${base.id}"\n${window}broadcast = { ${xyz(plus(arp, fromLocal(axes, base.broadcastOffsetM)))}, at = "arp" }\nknown = { ${xyz(known)}, at = "mark" }\nantenna_height_m = ${(antennaM + statedAntennaOffM).toFixed(4)}\nsigma_horizontal_m = ${mark.sigmasM[0]}\nsigma_vertical_m = ${mark.sigmasM[1]}\n`;
  });
  const height = geoid === null ? '' : `[height]\ngeoid = "${geoid.name}"\nsigma_m = ${geoid.sigmaM}\n`;
  const azimuth = azimuthSigmaDeg === null ? '' : `tilt_azimuth_sigma_deg = ${azimuthSigmaDeg}\n`;
  return `version = 1\n[system]\ngrid = "EPSG:2049"\n${height}[rover]\nreference_point = "arp"\nphase_centre_offset_m = ${phaseCentreM}\npole_length_m = ${POLE_M}\npole_sigma_m = ${POLE_SIGMA_M}\nplumb_sigma_deg = ${PLUMB_SIGMA_DEG}\ntilt_sigma_deg = ${TILT_SIGMA_DEG}\n${azimuth}tilt_azimuth = "top-from-tip"\n${set.join('')}[precision]\n${precision}\n`;
}
