import { RADIANS_PER_DEGREE } from '../../core/numeric/angle-units.js';
import { skylineAt, skylineOf } from '../../core/sky/obstruction-mask.js';
import type { SkySight, SkySite } from '../../records/sky/site-sky.js';
import { label, linePath } from '../figures/figure.js';
import { placeLabels } from '../figures/plan/place-labels.js';
import { polylinePath } from '../figures/shapes.js';
import type { Place } from '../figures/shapes.js';
import { markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { at } from '../page/words/numbers.js';

/** Where a sky is drawn: its zenith, and how far from it the horizon lies. */
export interface SkyCircle extends Place {
  readonly radius: number;
}

const RINGS_DEG = [30, 60];
/** The skyline is drawn through so many directions. */
const SKYLINE_STEP_DEG = 2;
const LETTERS = [
  { text: 'N', azimuthDeg: 0 },
  { text: 'E', azimuthDeg: 90 },
  { text: 'S', azimuthDeg: 180 },
  { text: 'W', azimuthDeg: 270 },
] as const;

/** The sky of a site as it lies over its head, north up and east to the right: skyline, mask and the ways of the satellites. */
export function skyPlot(
  site: SkySite,
  sights: readonly SkySight[],
  elevationMaskDeg: number,
  circle: SkyCircle,
): Markup {
  const place = (azimuthDeg: number, elevationDeg: number): Place => {
    const out = circle.radius * (1 - Math.max(0, elevationDeg) / 90);
    const angle = azimuthDeg * RADIANS_PER_DEGREE;
    return { x: circle.x + out * Math.sin(angle), y: circle.y - out * Math.cos(angle) };
  };
  const ring = (elevationDeg: number, classes: string): Markup =>
    markup`<circle class="${classes}" cx="${at(circle.x)}" cy="${at(circle.y)}" r="${at(circle.radius * (1 - elevationDeg / 90))}"/>`;
  const ways = waysOf(sights);
  const seen = ways.filter(({ isSeen }) => isSeen);
  const { x, y, radius } = circle;
  return together([
    hiddenSky(site, circle, place),
    ring(0, 'axis'),
    ...RINGS_DEG.map((elevationDeg) => ring(elevationDeg, 'ring')),
    linePath(`M${at(x - radius)} ${at(y)}H${at(x + radius)}M${at(x)} ${at(y - radius)}V${at(y + radius)}`, 'ray'),
    elevationMaskDeg > 0 ? ring(elevationMaskDeg, 'limit') : { html: '' },
    ...ways.map(({ sights: own, isSeen }) =>
      linePath(
        polylinePath(own.map(({ azimuthDeg, elevationDeg }) => place(azimuthDeg, elevationDeg))),
        isSeen ? 'blue' : 'spread',
      ),
    ),
    ...LETTERS.map(({ text, azimuthDeg }) => {
      const to = place(azimuthDeg, 0);
      return label(
        to.x + 10 * Math.sign(Math.round(to.x - x)),
        to.y + 4 + 9 * Math.sign(Math.round(to.y - y)),
        text,
        'm s q',
      );
    }),
    ...namesOf(seen, place, circle).map(({ x: left, y: top, text, classes }) => label(left, top, text.trim(), classes)),
  ]);
}

/** What the skyline hides, from the horizon up; nothing where none was measured. */
function hiddenSky(
  site: SkySite,
  circle: SkyCircle,
  place: (azimuthDeg: number, elevationDeg: number) => Place,
): Markup {
  const skyline = skylineOf(site.skyline);
  if (skyline.length === 0) return { html: '' };
  // Directions all around, and just beside each place, where a wall ends at once.
  const around = Array.from({ length: 360 / SKYLINE_STEP_DEG }, (_, step) => step * SKYLINE_STEP_DEG);
  const beside = skyline.flatMap(({ azimuthDeg }) => [azimuthDeg - 0.01, azimuthDeg, azimuthDeg + 0.01]);
  const directions = [...around, ...beside.map((azimuthDeg) => (azimuthDeg + 360) % 360)].sort((a, b) => a - b);
  const edge = directions.map((azimuthDeg) => place(azimuthDeg, skylineAt(skyline, azimuthDeg)));
  const { x, y, radius } = circle;
  const whole = `M${at(x - radius)} ${at(y)}a${at(radius)} ${at(radius)} 0 1 0 ${at(2 * radius)} 0a${at(radius)} ${at(radius)} 0 1 0 ${at(-2 * radius)} 0Z`;
  return markup`<path class="gone" fill-rule="evenodd" d="${whole}${polylinePath(edge, true)}"/>`;
}

interface Way {
  readonly satellite: string;
  readonly sights: readonly SkySight[];
  /** Above the masks of both ends. */
  readonly isSeen: boolean;
}

/** The ways of the satellites, cut where one sets and where it goes behind a mask or comes from it. */
function waysOf(sights: readonly SkySight[]): readonly Way[] {
  const ways: { satellite: string; sights: SkySight[]; isSeen: boolean; stepMs: number }[] = [];
  const least = leastStepMs(sights);
  for (const sight of sights) {
    const isSeen = sight.isAboveSiteMask && sight.isAboveBaseMask !== false;
    const last = ways.at(-1);
    const before = last?.sights.at(-1);
    const goesOn =
      last !== undefined &&
      before !== undefined &&
      last.satellite === sight.satellite &&
      sight.utcMs - before.utcMs <= 1.5 * least;
    if (goesOn && last.isSeen === isSeen) last.sights.push(sight);
    // The piece to the next place is of the place it begins at.
    else ways.push({ satellite: sight.satellite, sights: goesOn ? [before, sight] : [sight], isSeen, stepMs: least });
  }
  return ways;
}

function leastStepMs(sights: readonly SkySight[]): number {
  return sights.reduce((least, sight, index) => {
    const before = sights[index - 1];
    const stepMs = before?.satellite === sight.satellite ? sight.utcMs - before.utcMs : Infinity;
    return Math.min(least, stepMs);
  }, Infinity);
}

/** Names where each satellite stands highest, as far as there is room. */
function namesOf(
  ways: readonly Way[],
  place: (azimuthDeg: number, elevationDeg: number) => Place,
  { x, y, radius }: SkyCircle,
): ReturnType<typeof placeLabels> {
  const highest = new Map<string, SkySight>();
  for (const way of ways)
    for (const sight of way.sights)
      // Below every elevation where none came yet.
      if (sight.elevationDeg > (highest.get(way.satellite)?.elevationDeg ?? -1)) highest.set(way.satellite, sight);
  const wanted = [...highest].map(([text, sight]) => ({
    // Capitals are wide: a blank beside each name keeps the next one off it.
    text: `${text} `,
    at: place(sight.azimuthDeg, sight.elevationDeg),
    clear: 3,
  }));
  return placeLabels(wanted, [], { left: x - radius, right: x + radius, top: y - radius, bottom: y + radius });
}
