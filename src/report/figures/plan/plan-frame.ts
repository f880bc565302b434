import type { ReportAxis } from '../../../records/reports/reduction-report.js';
import { label, linePath } from '../figure.js';
import { markup, together } from '../../page/markup.js';
import type { Markup } from '../../page/markup.js';
import { at, decimalsOfStep, fixed } from '../../page/words/numbers.js';
import type { PlanView } from './plan-view.js';
import { roundBelow } from '../scales.js';
import type { Scale } from '../scales.js';

const GROWS: Readonly<Record<ReportAxis['direction'], string>> = {
  east: 'to the right',
  west: 'to the left',
  north: 'upwards',
  south: 'downwards',
};

/** The grid under a plan, its numbers and the names of its axes with the way they grow. */
export function planFrame(view: PlanView): Markup {
  const { box, across, up } = view;
  const [left, right, top, bottom] = [at(box.left), at(box.right), at(box.top), at(box.bottom)];
  let lines = '';
  const labels: Markup[] = [];
  const acrossUnit = unitOf(across.axis, across.scale);
  const upUnit = unitOf(up.axis, up.scale);
  for (const tick of across.scale.ticks) {
    const x = across.scale.to(tick);
    lines += `M${at(x)} ${top}V${bottom}`;
    labels.push(label(x, box.bottom + 15, fixed(tick / acrossUnit.divisor, acrossUnit.decimals), 'm s q'));
  }
  for (const tick of up.scale.ticks) {
    const y = up.scale.to(tick);
    lines += `M${left} ${at(y)}H${right}`;
    labels.push(label(box.left - 5, y + 3.5, fixed(tick / upUnit.divisor, upUnit.decimals), 'e s q'));
  }
  return together([
    linePath(lines, 'grid'),
    linePath(`M${left} ${top}H${right}V${bottom}H${left}Z`, 'axis'),
    ...labels,
    label((box.left + box.right) / 2, box.bottom + 34, axisTitle(across.axis, acrossUnit.name), 'm s'),
    markup`<text class="m s" transform="translate(11 ${at((box.top + box.bottom) / 2)}) rotate(-90)">${axisTitle(up.axis, upUnit.name)}</text>`,
  ]);
}

/** Where the arrow stands: at the left below the box, so that a narrow screen shows it and the scale without scrolling. */
export const ARROW_X = 26;
export const ARROW_BELOW = 50;
/** The scale of ground below the box, and under it that of what is drawn larger: both at its left, for the same reason. */
export const SCALE_BELOW = 60;
export const SECOND_SCALE_BELOW = 80;

/**
 * North, up the page: grid north, which is what the sides of the figure follow, and a thin line to true north.
 * Given: bearing of true north from grid north, degrees to the right; null where it is not known or there is no grid.
 */
export function northArrow(x: number, y: number, trueNorthDeg: number | null = null): Markup {
  const line =
    trueNorthDeg === null || Math.abs(trueNorthDeg) < LEAST_SHOWN_DEG
      ? null
      : markup`<path class="ray" d="M0 7V-21" transform="rotate(${fixed(trueNorthDeg, 2).replace('\u2212', '-')} 0 7)"/>`;
  return markup`<g transform="translate(${at(x)} ${at(y)})">${line}<path class="ink" d="M0-15L5 7L0 3L-5 7Z"/><text class="m halo" y="21">N</text></g>`;
}

/** Less than half of the last decimal that is printed. */
const LEAST_SHOWN_DEG = 0.005;

/** Where true north lies, in words; empty where it is not known. */
export function trueNorthWords(trueNorthDeg: number | null): string {
  if (trueNorthDeg === null) return '';
  if (Math.abs(trueNorthDeg) < LEAST_SHOWN_DEG) return ', and so is true north here';
  return `; true north (thin) lies ${fixed(Math.abs(trueNorthDeg), 2)}° to its ${trueNorthDeg > 0 ? 'right' : 'left'} in the middle of the points`;
}

/** A bar of a round length, with `lengthM` to say what it stands for. */
export function scaleBar(
  x: number,
  y: number,
  pixelsPerMetre: number,
  longestPx: number,
  unit: (lengthM: number) => string,
): Markup {
  const lengthM = roundBelow(longestPx / pixelsPerMetre);
  const end = x + lengthM * pixelsPerMetre;
  return together([
    markup`<path class="inkline" d="M${at(x)} ${at(y - 4)}V${at(y + 3)}M${at(end)} ${at(y - 4)}V${at(y + 3)}M${at(x)} ${at(y)}H${at(end)}"/>`,
    label(end + 7, y + 3.5, unit(lengthM), 's'),
  ]);
}

/** A length of ground, or of what is drawn larger than it is, written short. */
export function groundLength(lengthM: number): string {
  if (lengthM < 1) return `${fixed(lengthM * 1000, decimalsOfStep(lengthM * 1000))} mm`;
  return lengthM >= 1000
    ? `${fixed(lengthM / 1000, decimalsOfStep(lengthM / 1000))} km`
    : `${fixed(lengthM, decimalsOfStep(lengthM))} m`;
}

function unitOf(
  axis: ReportAxis,
  scale: Scale,
): { readonly divisor: number; readonly decimals: number; readonly name: string } {
  const inKilometres = axis.metresPerUnit === 1 && scale.step >= 500;
  const divisor = inKilometres ? 1000 : 1;
  return { divisor, decimals: decimalsOfStep(scale.step / divisor), name: inKilometres ? 'km' : axis.unitName };
}

function axisTitle(axis: ReportAxis, unit: string): string {
  return `${axis.abbreviation}, ${axis.name}, ${unit}, grows ${GROWS[axis.direction]} (${axis.direction})`;
}
