import { RADIANS_PER_DEGREE } from '../numeric/angle-units.js';
import type { KeplerElements, SkySystem } from '../../records/sky/orbit-elements.js';
import { eccentricAnomaly } from './kepler-equation.js';

/** The Earth as each system's elements take it: product of gravity, m³/s², and rate of rotation, rad/s. */
interface EarthOf {
  readonly gravity: number;
  readonly rotation: number;
}

const GPS_EARTH: EarthOf = { gravity: 3.986005e14, rotation: 7.2921151467e-5 };

/** Sources: IS-GPS-200, table 20-IV, taken over by QZSS; Galileo OS SIS ICD and BeiDou SIS ICD, from memory. GLONASS sends states. */
const EARTH: Readonly<Record<Exclude<SkySystem, 'GLONASS'>, EarthOf>> = {
  GPS: GPS_EARTH,
  QZSS: GPS_EARTH,
  Galileo: { gravity: 3.986004418e14, rotation: 7.2921151467e-5 },
  BeiDou: { gravity: 3.986004418e14, rotation: 7.292115e-5 },
};

/** The plane in which elements of geostationary BeiDou satellites are sent is turned by −5° about X. From memory of the BeiDou SIS ICD. */
const GEOSTATIONARY_TURN_RAD = -5 * RADIANS_PER_DEGREE;

/**
 * Where a satellite is, from its Kepler elements.
 *
 * Given: elements; the instant, milliseconds on the clock of GPS. Returned: in `into` from `at` on X, Y, Z, metres, Earth-fixed
 * at that instant. Notes: the Earth's turn while the signal comes down (0.13 km) is left out. The instant may lie days from the
 * reference time: angles grow at the rates sent, and nothing is wrapped.
 * Reference: IS-GPS-200, table 20-IV; for geostationary BeiDou satellites BDS-SIS-ICD, from memory.
 */
export function keplerPlace(elements: KeplerElements, gpsMs: number, into: Float64Array, at: number): void {
  const earth = EARTH[elements.system as Exclude<SkySystem, 'GLONASS'>];
  const seconds = (gpsMs - elements.referenceMs) / 1000;
  const axisM = elements.rootSemiMajorAxis * elements.rootSemiMajorAxis;
  const e = elements.eccentricity;
  const motion = Math.sqrt(earth.gravity / (axisM * axisM * axisM)) + elements.meanMotionDifferenceRadPerS;
  const anomaly = eccentricAnomaly(elements.meanAnomalyRad + motion * seconds, e);
  const cosAnomaly = Math.cos(anomaly);
  const trueAnomaly = Math.atan2(Math.sqrt(1 - e * e) * Math.sin(anomaly), cosAnomaly - e);
  const phi = trueAnomaly + elements.perigeeRad;
  const sin2 = Math.sin(2 * phi);
  const cos2 = Math.cos(2 * phi);
  const u = phi + elements.cusRad * sin2 + elements.cucRad * cos2;
  const radius = axisM * (1 - e * cosAnomaly) + elements.crsM * sin2 + elements.crcM * cos2;
  const inclination =
    elements.inclinationRad +
    elements.inclinationRateRadPerS * seconds +
    elements.cisRad * sin2 +
    elements.cicRad * cos2;
  const along = radius * Math.cos(u);
  const across = radius * Math.sin(u);
  const turned = elements.isGeostationary ? 0 : earth.rotation * seconds;
  const node =
    elements.nodeRad + elements.nodeRateRadPerS * seconds - turned - earth.rotation * elements.referenceOfWeekS;
  const level = across * Math.cos(inclination);
  const x = along * Math.cos(node) - level * Math.sin(node);
  const y = along * Math.sin(node) + level * Math.cos(node);
  const z = across * Math.sin(inclination);
  if (elements.isGeostationary) {
    tilted(x, y, z, earth.rotation * seconds, into, at);
    return;
  }
  into[at] = x;
  into[at + 1] = y;
  into[at + 2] = z;
}

/** About X by −5°, then about Z by what the Earth turned since the reference time. */
function tilted(x: number, y: number, z: number, turnRad: number, into: Float64Array, at: number): void {
  const sinTilt = Math.sin(GEOSTATIONARY_TURN_RAD);
  const cosTilt = Math.cos(GEOSTATIONARY_TURN_RAD);
  const sinTurn = Math.sin(turnRad);
  const cosTurn = Math.cos(turnRad);
  const level = y * cosTilt + z * sinTilt;
  into[at] = x * cosTurn + level * sinTurn;
  into[at + 1] = level * cosTurn - x * sinTurn;
  into[at + 2] = z * cosTilt - y * sinTilt;
}
