import { gpsFromUtc } from '../../core/sky/gps-clock.js';
import { repeatByElements } from '../../core/sky/geometry-repeat.js';
import { NO_ELEMENTS, UNHEALTHY } from '../../core/sky/orbit-track.js';
import type { OrbitTrack } from '../../core/sky/orbit-track.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Answer, RunAnswer } from '../../records/runs/run-answer.js';
import type { OrbitElements } from '../../records/sky/orbit-elements.js';
import type { SiteSky, SkySight, SkySite } from '../../records/sky/site-sky.js';
import { farFromBase } from './far-from-base.js';
import { skyFindings } from './sky-findings.js';
import type { SkyFindings } from './sky-findings.js';
import { orbitTracks } from './orbit-tracks.js';
import { siteSky, sightsFrom } from './site-sky.js';
import { seenFrom, siteView } from './site-view.js';
import type { SiteView } from './site-view.js';
import { MOST_INSTANTS, instantsOf } from './sky-setup.js';
import type { SkySetup } from './sky-setup.js';

/** A sky that is planned site by site. */
export interface SkyRun {
  readonly instants: readonly number[];
  readonly tracks: readonly OrbitTrack[];
  /** What is to be known of the elements before anything is read from the plan. */
  readonly findings: SkyFindings;
  /** How much earlier GPS satellites come back each day, by their elements, seconds; null: no GPS. */
  readonly repeatS: number | null;
  /** The sky of each site, in order; made as it is asked for. */
  readonly sites: () => Iterable<SiteSky>;
  /** Every satellite above the horizon of a site, satellite by satellite in the order of time. */
  readonly sightsFrom: (site: SkySite) => readonly SkySight[];
  /** Of all sites, once they were made. */
  readonly end: () => RunAnswer;
}

/**
 * Starts the plan of a sky. The worst site is the answer: within where every instant of every site meets the limits, no where a site has
 * no instant that does; a site farther from the base than one base serves is for review.
 *
 * Given: see `SkySetup`. Problems: usage-invalid for more instants than are planned, and before 1999; sky-no-elements where no satellite is known at any of them.
 *
 * @example
 * // A day without a satellite is no plan.
 * const times = { fromMs: 1709769600000, toMs: 1709773200000, intervalS: 300 };
 * const rest = { base: null, elements: [], elevationMaskDeg: 10, limits: { pdop: 4, satellites: 6 } };
 * startSky({ ellipsoid: WGS84, sites: [], times, ...rest }).problems[0].code; // 'sky-no-elements'
 */
export function startSky(setup: SkySetup): Outcome<SkyRun> {
  const { times, ellipsoid, base, sites, elevationMaskDeg, limits } = setup;
  if ((times.toMs - times.fromMs) / (1000 * times.intervalS) > MOST_INSTANTS)
    return failure(
      errorProblem('usage-invalid', {
        message: `more than ${String(MOST_INSTANTS)} instants are asked for`,
        hint: 'give a longer --interval',
      }),
    );
  const instants = instantsOf(times);
  const onGps = instants.flatMap((utcMs) => gpsFromUtc(utcMs) ?? []);
  if (onGps.length < instants.length)
    return failure(errorProblem('usage-invalid', { message: 'a sky before 1999 is not planned' }));
  const tracks = orbitTracks(setup.elements, onGps);
  if (!tracks.some(({ states }) => states.some((state) => state !== NO_ELEMENTS && state !== UNHEALTHY)))
    return failure(noneAt(setup.elements, onGps));
  const far = farFromBase(setup);
  const seen = base === null ? null : seenFrom(siteView(base, elevationMaskDeg, ellipsoid), tracks, instants.length);
  const shared = { tracks, instants, endMs: times.toMs, limits, fromBase: seen };
  const viewFrom = (site: SkySite): SiteView => siteView(site, elevationMaskDeg, ellipsoid);
  const verdicts = new Map<Answer, number>([
    ['within', 0],
    ['review', 0],
    ['no', 0],
  ]);
  const reasons = new Map<string, number>();
  return success({
    instants,
    tracks,
    findings: skyFindings(tracks, far),
    repeatS: repeatByElements(tracks.flatMap(({ used }) => used)),
    *sites() {
      for (const site of sites) {
        const own = siteSky(site, viewFrom(site), shared);
        const isFar = far.some(({ id }) => id === site.id);
        const sky: SiteSky = isFar && own.verdict === 'within' ? { ...own, verdict: 'review' } : own;
        counted(verdicts, sky.verdict);
        if (isFar) counted(reasons, 'sky-base-far');
        for (const reason of new Set(sky.windows.flatMap((window) => window.reasons))) counted(reasons, reason);
        yield sky;
      }
    },
    sightsFrom: (site) => sightsFrom(viewFrom(site), shared),
    end: () => ({ answer: worst(verdicts), verdicts, reasons }),
  });
}

function counted<Key>(counts: Map<Key, number>, key: Key): void {
  // Not counted yet is 0.
  counts.set(key, (counts.get(key) ?? 0) + 1);
}

function worst(verdicts: ReadonlyMap<Answer, number>): Answer {
  for (const answer of ['no', 'review'] as const) if (verdicts.get(answer) !== 0) return answer;
  return 'within';
}

function noneAt(elements: readonly OrbitElements[], onGps: readonly number[]): ReturnType<typeof errorProblem> {
  const first = onGps[0] ?? 0; // There is an instant wherever elements are looked at.
  const nearest = elements.reduce<number | null>((least, { referenceMs }) => {
    const away = Math.abs(referenceMs - first);
    return least === null ? away : Math.min(least, away);
  }, null);
  return errorProblem('sky-no-elements', {
    message:
      nearest === null
        ? 'no file holds elements of a satellite that is planned with'
        : `no healthy satellite has elements near enough to the day: the nearest are ${String(Math.round(nearest / 86_400_000))} days from it`,
    hint: 'give a navigation file of the day, of the day before, or a newer almanac; look at --date and --systems',
  });
}
