import { formatUtc } from '../../../../core/numeric/text/utc-text.js';
import { REPEAT_MS } from '../../../../core/sky/geometry-repeat.js';
import type { SkySite } from '../../../../records/sky/site-sky.js';
import type { PlannedSky } from '../planned-sky.js';
import { goodTimeMs } from './sky-site-columns.js';

const HOUR_MS = 3_600_000;
const TENTHS = 10;

/** What JSON says of a sky once for all instants. */
export function skyWhole({ setup, run, skies, files }: PlannedSky): Readonly<Record<string, unknown>> {
  const { times, elevationMaskDeg, limits, base } = setup;
  const { findings, tracks, repeatS } = run;
  return {
    from_utc: formatUtc(times.fromMs),
    to_utc: formatUtc(times.toMs),
    interval_s: times.intervalS,
    elevation_mask_deg: elevationMaskDeg,
    limits: { pdop: limits.pdop, satellites: limits.satellites },
    base: base === null ? null : placeJson(base),
    navigation: files.map(({ source, form, elements, skipped, faults }) => ({
      name: source.digest().name,
      form,
      records: elements.length,
      bad: faults.length,
      skipped: Object.fromEntries(skipped),
    })),
    satellites_known: tracks.map(({ satellite }) => satellite),
    satellites_unhealthy: findings.unhealthy,
    satellites_without_elements: findings.missing,
    broadcast_age_hours: tenths(findings.broadcastHours),
    almanac_age_hours: tenths(findings.almanacHours),
    gps_repeat_s: REPEAT_MS / 1000,
    gps_repeat_by_elements_s: tenths(repeatS),
    sites: skies.map((sky) => ({
      ...placeJson(sky.site),
      verdict: sky.verdict,
      hours_within: tenths(goodTimeMs(sky) / HOUR_MS),
      mask_places: sky.site.skyline.length,
      windows: sky.windows.map((window) => ({
        from_utc: formatUtc(window.fromMs),
        to_utc: formatUtc(window.toMs),
        verdict: window.isGood ? 'within' : 'no',
        fewest_satellites: window.fewestSatellites,
        reasons: window.reasons,
      })),
    })),
  };
}

function placeJson({ id, latitudeDeg, longitudeDeg, ellipsoidalHeightM }: SkySite): Readonly<Record<string, unknown>> {
  return {
    point_id: id,
    latitude_deg: latitudeDeg,
    longitude_deg: longitudeDeg,
    ellipsoidal_height_m: ellipsoidalHeightM,
  };
}

/** One decimal: hours and seconds that are said, not reckoned with. */
function tenths(value: number | null): number | null {
  return value === null ? null : Math.round(value * TENTHS) / TENTHS;
}
