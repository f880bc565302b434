import { largestOf, smallestOf } from '../../../../core/numeric/extremes.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { formatUtc } from '../../../../core/numeric/text/utc-text.js';
import { REPEAT_MS } from '../../../../core/sky/geometry-repeat.js';
import { SKY_SYSTEMS } from '../../../../records/sky/orbit-elements.js';
import type { SiteSky } from '../../../../records/sky/site-sky.js';
import type { PlannedSky } from '../planned-sky.js';
import { goodTimeMs, longestWindow } from './sky-site-columns.js';

/** More sites than this are counted only. */
const SITES_SHOWN = 12;
const NAMES_SHOWN = 12;
const HOUR_MS = 3_600_000;

/** The account a sky ends with: what it was planned from, the windows of each site, and what to mind. */
export function skySummary(planned: PlannedSky): readonly string[] {
  return [...basisLines(planned), ...siteLines(planned), ...repeatLines(planned)];
}

function basisLines({ setup, run, files, offsetMinutes }: PlannedSky): readonly string[] {
  const { times, elevationMaskDeg, limits, base } = setup;
  const { findings, tracks } = run;
  const counts = SKY_SYSTEMS.flatMap((system) => {
    const own = tracks.filter((track) => track.system === system).length;
    return own === 0 ? [] : [`${system} ${String(own)}`];
  });
  const ages = [
    ...(findings.broadcastHours === null
      ? []
      : [`broadcast elements within ${formatFixed(findings.broadcastHours, 1)} h`]),
    ...(findings.almanacHours === null ? [] : [`almanacs within ${formatFixed(findings.almanacHours / 24, 1)} days`]),
  ];
  const skipped = files.flatMap((file) => [...file.skipped].map(([kind, count]) => `${String(count)} ${kind}`));
  return [
    `${formatUtc(times.fromMs)} to ${formatUtc(times.toMs)}${offsetMinutes === 0 ? '' : `, hours of a clock ${offsetText(offsetMinutes)} from UTC`}: elevation mask ${formatFixed(elevationMaskDeg, 1)} deg, PDOP at most ${String(limits.pdop)}, ${String(limits.satellites)} satellites at least`,
    `satellites known: ${counts.join(', ')}; ${ages.join(', ')}`,
    ...(findings.unhealthy.length === 0 ? [] : [`left out, not healthy: ${someOf(findings.unhealthy)}`]),
    ...(skipped.length === 0 ? [] : [`records not planned with: ${skipped.join(', ')}`]),
    base === null
      ? 'no base: the sky of each site alone'
      : `both ends: satellites count where ${base.id} sees them too`,
  ];
}

function offsetText(minutes: number): string {
  const [h, m] = [Math.floor(Math.abs(minutes) / 60), Math.abs(minutes) % 60];
  return `${minutes < 0 ? '-' : '+'}${String(h).padStart(2, '0')}:${String(m).padStart(2, '0')}`;
}

function someOf(names: readonly string[]): string {
  const more = names.length - NAMES_SHOWN;
  return `${names.slice(0, NAMES_SHOWN).join(', ')}${more > 0 ? ` and ${String(more)} more` : ''}`;
}

function siteLines({ skies }: PlannedSky): readonly string[] {
  const lines = skies.slice(0, SITES_SHOWN).map(siteLine);
  const more = skies.length - lines.length;
  return more > 0 ? [...lines, `and ${String(more)} more sites`] : lines;
}

function siteLine(sky: SiteSky): string {
  const longest = longestWindow(sky);
  const counts = sky.epochs.map(({ satellites }) => satellites);
  const said = `${sky.site.id}: ${String(smallestOf(counts))} to ${String(largestOf(counts))} satellites`;
  if (longest === null) return `${said}; at no instant within the limits`;
  const hours = formatFixed(goodTimeMs(sky) / HOUR_MS, 1);
  if (sky.verdict === 'within') return `${said}; all ${hours} h within the limits`;
  return `${said}; ${hours} h within the limits, the longest ${timeOf(longest.fromMs)} to ${timeOf(longest.toMs)} UTC`;
}

function timeOf(ms: number): string {
  return formatUtc(ms).slice(11, 16);
}

function repeatLines({ run: { repeatS } }: PlannedSky): readonly string[] {
  if (repeatS === null) return [];
  return [
    `the sky of GPS comes back ${String(-REPEAT_MS / 1000)} s earlier each day (${formatFixed(-repeatS, 0)} s by these elements): a second occupation tells more at another hour`,
  ];
}
