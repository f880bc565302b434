import { largestOf, smallestOf } from '../../core/numeric/extremes.js';
import { SKY_SYSTEMS } from '../../records/sky/orbit-elements.js';
import type { SkyReport } from '../../records/reports/sky-report.js';
import type { SiteSky } from '../../records/sky/site-sky.js';
import { wideFigure } from '../figures/figure.js';
import { answerWord } from '../page/words/answer-word.js';
import { CAUTIONS, cautionList } from '../page/words/cautions.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, fixed, utc, utcDate } from '../page/words/numbers.js';
import { page } from '../page/page.js';
import type { PageSection } from '../page/page.js';
import { filesSection, kickerOf } from '../page/sections/run-facts.js';
import { table } from '../page/table.js';
import { warningsSection } from '../page/sections/warnings-section.js';
import { MOST_LIMITS, siteDrawing } from './site-drawing.js';
import { windowsSection } from './windows-section.js';

const HOUR_MS = 3_600_000;
const MOST_SITES = 200;
const NAMES_SHOWN = 24;
const NEXT_NAMED = 6;

/** The page of a sky: one self-contained HTML file as text. */
export function skyPage(report: SkyReport): string {
  const { drawn, skies } = report;
  const few =
    drawn.length < skies.length
      ? [
          markup`<p class="small">${String(drawn.length)} of ${String(skies.length)} sites are drawn, those with the least time within the limits first.</p>`,
        ]
      : [];
  const sections: readonly (PageSection | null)[] = [
    { id: 'sites', heading: 'Every site', body: sitesTable(skies) },
    {
      id: 'skies',
      heading: 'The sky',
      body: together([
        ...drawn.map((one, index) =>
          wideFigure(siteDrawing(`sky-${String(index + 1)}`, one, report), index + 1, caption(one.sky, report)),
        ),
        ...few,
      ]),
    },
    { id: 'windows', heading: 'Windows', body: windowsSection(report) },
    { id: 'elements', heading: 'Satellites', body: elementsBody(report) },
    filesSection(report),
    warningsSection(report.warnings),
    {
      id: 'cautions',
      heading: 'Cautions',
      body: cautionList([
        'A sky that is good on paper may be bad under trees, beside metal or when the ionosphere is active. Only repeats and control say what an occupation was.',
        'A satellite may be moved, switched on or off after the elements were sent.',
        'Masks hide what was measured. Their azimuths are from true north; leaves and vehicles are not in them.',
        ...CAUTIONS.slice(2, 4),
      ]),
    },
  ];
  return page({
    title: report.title ?? `The sky of ${utc(report.times.fromMs).slice(0, 10)}`,
    kicker: kickerOf('Plan of the sky', report),
    verdict: verdict(report),
    sections: sections.filter((section) => section !== null),
    foot: 'Times are UTC. Directions are from true north and above the plane across the normal of the ellipsoid, without refraction. This page loads nothing and runs nothing.',
  });
}

function verdict(report: SkyReport): readonly Markup[] {
  const { answer, skies, times, limits, elevationMaskDeg, base, offsetMinutes } = report;
  const count = (word: SiteSky['verdict']): number => skies.filter(({ verdict: own }) => own === word).length;
  const worst = skies.toSorted((a, b) => goodMs(a) - goodMs(b))[0];
  const unmasked = [...skies.map(({ site }) => site), ...(base === null ? [] : [base])].filter(
    ({ skyline }) => skyline.length === 0,
  ).length;
  const clock =
    offsetMinutes === 0 ? '' : ` Hours were given by a clock ${fixed(offsetMinutes / 60, 2)} h ahead of UTC.`;
  return [
    markup`<b>${answerWord(answer)}</b> ${periodWords(times)}: ${counted(skies.length, 'site')}, ${String(count('within'))} within the limits all the time, ${String(count('review'))} part of it, ${String(count('no'))} never. Limits: PDOP ${fixed(limits.pdop, 1)} at most, ${String(limits.satellites)} satellites at least, above ${fixed(elevationMaskDeg, 1)}°.${clock}`,
    ...(worst === undefined ? [] : [markup`<b>Least time.</b> ${named(worst.site.id)}: ${worstLine(worst, limits)}`]),
    ...(base === null ? [] : [markup`<b>Both ends.</b> Satellites count where ${named(base.id)} sees them too.`]),
    markup`<b>Next.</b> ${nextWords(skies, unmasked)}`,
    markup`<b>Not done.</b> ${base === null ? 'No base was named: this is the sky of each site alone. ' : ''}${maskLine(unmasked)}Trees and buildings without a measured skyline, reflections and the ionosphere were not looked at.`,
  ];
}

function maskLine(unmasked: number): string {
  return unmasked === 0 ? '' : `Without a measured skyline: ${counted(unmasked, 'place')}, planned as open. `;
}

/** What to do: of sites that have hours within the limits, and of those that have none. */
function nextWords(skies: readonly SiteSky[], unmasked: number): Markup {
  const byTime = skies.toSorted((a, b) => goodMs(a) - goodMs(b));
  const never = byTime.filter((sky) => goodMs(sky) === 0);
  const partly = byTime.filter((sky) => goodMs(sky) > 0 && sky.verdict !== 'within');
  const measure = unmasked === 0 ? '' : ', and measure the skylines that were planned as open';
  if (never.length + partly.length === 0) return markup`Choose the hours by the drive${measure}.`;
  const none =
    never.length === 0
      ? null
      : markup`No hour serves ${namesOf(never)}: plan another day or a longer one, clear the sky, or measure there by other means${partly.length === 0 ? '.' : '. '}`;
  const some =
    partly.length === 0
      ? null
      : markup`Put the work at ${namesOf(partly)} into its windows below; --windows writes them for the timetable of plan-baseline.`;
  return markup`${none}${some}`;
}

/** A few sites by name, and how many more. */
function namesOf(skies: readonly SiteSky[]): Markup {
  const more = skies.length - NEXT_NAMED;
  return markup`${skies.slice(0, NEXT_NAMED).map(({ site }, index) => markup`${index === 0 ? '' : ', '}${named(site.id)}`)}${more > 0 ? ` and ${String(more)} more` : ''}`;
}

function goodMs({ windows }: SiteSky): number {
  return windows.reduce((sum, { isGood, fromMs, toMs }) => sum + (isGood ? toMs - fromMs : 0), 0);
}

/** Which limit is missed, and by what at best. */
function missedWords({ epochs }: SiteSky, { pdop, satellites }: SkyReport['limits']): string {
  const most = largestOf(epochs.map((epoch) => epoch.satellites));
  const fewest = smallestOf(epochs.map((epoch) => epoch.satellites));
  const dilutions = epochs.flatMap(({ dilution }) => dilution?.pdop ?? []);
  const isWhole = dilutions.length === epochs.length;
  return [
    ...(fewest < satellites
      ? [`satellites ${String(fewest)} at worst and ${String(most)} at best, limit ${String(satellites)}`]
      : []),
    ...(!isWhole || largestOf(dilutions) > pdop
      ? [
          dilutions.length === 0
            ? 'no PDOP, because too few satellites are seen'
            : `PDOP ${fixed(smallestOf(dilutions), 1)} at best${isWhole ? ` and ${fixed(largestOf(dilutions), 1)} at worst` : ''}, limit ${fixed(pdop, 1)}`,
        ]
      : []),
  ].join('; ');
}

/** `2025-08-02, 06:00 to 12:00 UTC`, or from date to date. */
function periodWords({ fromMs, toMs }: SkyReport['times']): string {
  const [first, last] = [fromMs, toMs].map((ms) => utc(ms).slice(11, 16));
  return utcDate(fromMs) === utcDate(toMs)
    ? `${utcDate(fromMs)}, ${String(first)} to ${String(last)} UTC`
    : `${utcDate(fromMs)}, ${String(first)}, to ${utcDate(toMs)}, ${String(last)} UTC`;
}

function worstLine(sky: SiteSky, limits: SkyReport['limits']): string {
  const missed = sky.windows.filter(({ isGood }) => !isGood);
  if (missed.length === 0) return 'all of the time is within the limits.';
  const listed = missed
    .slice(0, 4)
    .map(({ fromMs, toMs }) => `${utc(fromMs).slice(11, 16)} to ${utc(toMs).slice(11, 16)}`)
    .join(', ');
  const more = missed.length > 4 ? ' and others' : '';
  return `${fixed(goodMs(sky) / HOUR_MS, 1)} h within the limits; they are missed ${listed}${more} UTC: ${missedWords(sky, limits)}.`;
}

function caption(sky: SiteSky, { base, elevationMaskDeg, limits }: SkyReport): Markup {
  const mask = sky.site.skyline.length === 0 ? 'No skyline was measured.' : 'Shaded: what the skyline hides.';
  const both = base === null ? 'above the masks' : 'above the masks of both ends';
  return markup`${named(sky.site.id)}. North is up, east to the right; rings are 0°, 30° and 60° above the horizon, dashed the mask of ${fixed(elevationMaskDeg, 1)}°. Blue: ${both}; thin: hidden. ${mask} Right: satellites and PDOP over time, each shaded where its own limit is missed.${sky.epochs.some(({ dilution }) => dilution !== null && dilution.pdop > MOST_LIMITS * limits.pdop) ? ` PDOP above ${fixed(MOST_LIMITS * limits.pdop, 1)} is drawn at the top.` : ''}`;
}

function sitesTable(skies: readonly SiteSky[]): Markup {
  const shown = skies.slice(0, MOST_SITES);
  const few = shown.length < skies.length ? ` ${String(shown.length)} of ${String(skies.length)} are shown.` : '';
  return table({
    label: 'Every site',
    caption: markup`<b>Every site.</b> Satellites and PDOP as both ends see them.${few}`,
    columns: [
      { head: 'Site', kind: 'words' },
      { head: 'Answer', kind: 'text' },
      { head: 'Within', unit: 'h', kind: 'number' },
      { head: 'Fewest', unit: 'satellites', kind: 'number' },
      { head: 'Most', unit: 'satellites', kind: 'number' },
      { head: 'Least', unit: 'PDOP', kind: 'number' },
      { head: 'Largest', unit: 'PDOP', kind: 'number' },
      { head: 'Skyline', unit: 'places', kind: 'number' },
    ],
    rows: shown.map((sky) => {
      const counts = sky.epochs.map(({ satellites }) => satellites);
      const dilutions = sky.epochs.flatMap(({ dilution }) => dilution?.pdop ?? []);
      const isWhole = dilutions.length === sky.epochs.length;
      return [
        named(sky.site.id),
        sky.verdict === 'within' ? sky.verdict : markup`<span class="no">${sky.verdict}</span>`,
        fixed(goodMs(sky) / HOUR_MS, 1),
        String(smallestOf(counts)),
        String(largestOf(counts)),
        fixed(dilutions.length === 0 ? null : smallestOf(dilutions), 1),
        fixed(isWhole ? largestOf(dilutions) : null, 1),
        String(sky.site.skyline.length),
      ];
    }),
  });
}

/** What the sky was made of, and what was left out. */
function elementsBody({ known, unhealthy, missing, broadcastHours, almanacHours, skipped }: SkyReport): Markup {
  const rows = SKY_SYSTEMS.flatMap((system) => {
    const names = known.filter((one) => one.system === system).map(({ satellite }) => satellite);
    return names.length === 0 ? [] : [[system, String(names.length), names.join(' ')]];
  });
  const ages = [
    ...(broadcastHours === null
      ? []
      : [`Broadcast elements are at most ${fixed(broadcastHours, 1)} h from the instants they are used for.`]),
    ...(almanacHours === null ? [] : [`Almanacs are at most ${fixed(almanacHours / 24, 1)} days from them.`]),
    ...(unhealthy.length === 0 ? [] : [`Left out, because they say that they are not healthy: ${someOf(unhealthy)}.`]),
    ...(missing.length === 0 ? [] : [`Left out where their elements lie too far away: ${someOf(missing)}.`]),
    ...(skipped.length === 0
      ? []
      : [`Records not planned with: ${skipped.map(([kind, count]) => `${String(count)} ${kind}`).join(', ')}.`]),
  ];
  return together([
    table({
      label: 'Satellites',
      caption: markup`<b>Satellites.</b> Those that the files hold elements of.`,
      columns: [
        { head: 'Constellation', kind: 'text' },
        { head: 'Count', kind: 'number' },
        { head: 'Names', kind: 'prose' },
      ],
      rows,
    }),
    markup`<p>${ages.join(' ')}</p>`,
  ]);
}

function someOf(names: readonly string[]): string {
  const more = names.length - NAMES_SHOWN;
  return `${names.slice(0, NAMES_SHOWN).join(', ')}${more > 0 ? ` and ${String(more)} more` : ''}`;
}
