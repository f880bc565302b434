import { entryAt } from '../../../records/present.js';
import type { WorkingStep } from '../../../records/working-step.js';
import { INPUT, given, inOne, lowered, stated, together, worked } from '../../explain/lines/worked-lines.js';
import { ABOUT, COSINE, FOUND, SHIFT } from './digits.js';
import { AXES } from './six-numbers.js';
import type { NumberPart, PlacePart, StationParts } from './station-parts.js';

const placeName = (axis: number, by = ''): string => `${entryAt(AXES, axis)}${by}`;
/** The name of the approximate coordinate of the station. */
const zero = (isHeight: boolean, axis: number): string => (isHeight ? 'H₀' : placeName(axis, '₀'));
const shift = (isHeight: boolean, axis: number): string => (isHeight ? 'δH' : `δ${placeName(axis)}`);

/** What each observation says of the station, as a correction to its approximate coordinates. */
export function equationStep(id: string, { shown, summed, about, shiftM, isFixed }: StationParts): WorkingStep {
  const isHeight = about.length === 1;
  return {
    title: `What each observation says of ${id}`,
    formula: isHeight
      ? 'l + v = δH − (others): each observation says g of the correction δH to the approximate height H₀'
      : 'l + v = A x: of a vector v = ±(δ − g), where g is what it says of the correction δ to the approximate place (X₀, Y₀, Z₀), the other end (X, Y, Z, δX, δY, δZ) taken as adjusted; of a distance or a height difference v = aX·δX + aY·δY + aZ·δZ − g',
    substitution: [
      `approximate, whole centimetres: ${inOne(about.map((value, axis) => given(zero(isHeight, axis), value, ABOUT)))}`,
      ...shown.flatMap((part, at) =>
        part.kind === 'place' ? placeLines(part, at + 1, about) : numberLines(part, at + 1, isHeight),
      ),
      ...(isFixed
        ? [`held without error: ${inOne(shiftM.map((value, axis) => given(shift(isHeight, axis), value, SHIFT)))}`]
        : []),
    ],
    result: summed === null ? [] : [`${summed.label}, in the normal equations`],
    source: 'AITKEN-1935; docs/methods/network.md',
  };
}

function placeLines(part: PlacePart, count: number, about: readonly number[]): readonly string[] {
  const by = lowered(count);
  const { label, other, measuredM, sharedM, shared, sign } = part;
  const hasShared = shared.length > 0;
  const term = (axis: number): string => (hasShared ? ` ${sign === 1 ? '−' : '+'} s${placeName(axis, by)}` : '');
  const said = (axis: number): number => saidOf(part, axis, about);
  const formula = (axis: number): string => {
    const [own, there, d] = [placeName(axis, '₀'), placeName(axis, by), `d${placeName(axis, by)}`];
    if (other === null) return `${there} − ${own}${term(axis)}`;
    return sign === 1
      ? `${d} − (${own} − ${there}) + δ${there}${term(axis)}`
      : `(${there} − ${own}) − ${d} + δ${there}${term(axis)}`;
  };
  const each = (line: (axis: number) => string): string => inOne(AXES.map((_, axis) => line(axis)));
  return [
    other === null
      ? `${label}, as stated: ${each((axis) => stated(placeName(axis, by), entryAt(measuredM, axis), INPUT, 4))}`
      : `${label}: ${each((axis) => stated(`d${placeName(axis, by)}`, entryAt(measuredM, axis), INPUT, 4))}`,
    ...(other === null
      ? []
      : [
          `${other.id}: ${each((axis) => given(placeName(axis, by), entryAt(other.about, axis), ABOUT))}`,
          each((axis) => given(`δ${placeName(axis, by)}`, entryAt(other.shiftM, axis), SHIFT)),
        ]),
    ...(hasShared
      ? [`${shared.join(', ')}: ${each((axis) => given(`s${placeName(axis, by)}`, entryAt(sharedM, axis), SHIFT))}`]
      : []),
    each((axis) => worked(`g${placeName(axis, by)}`, formula(axis), said(axis), FOUND)),
  ];
}

/** What three numbers say of the correction along an axis, metres. */
export function saidOf({ other, measuredM, sharedM, sign }: PlacePart, axis: number, about: readonly number[]): number {
  const own = entryAt(about, axis);
  const s = entryAt(sharedM, axis);
  if (other === null) return entryAt(measuredM, axis) - own - s;
  const apart = sign * (own - entryAt(other.about, axis));
  return sign * (entryAt(measuredM, axis) - apart - s) + entryAt(other.shiftM, axis);
}

function numberLines(
  { label, shared, along, observedM, othersM }: NumberPart,
  count: number,
  isHeight: boolean,
): readonly string[] {
  const by = lowered(count);
  return [
    isHeight
      ? `${label}: ${given(`a${by}`, along[0], { ...COSINE, decimals: 0 })}`
      : `${label}: ${inOne(AXES.map((axis, k) => given(`a${axis}${by}`, entryAt(along, k), COSINE)))}`,
    `observed less computed, and what the other end${shared.length === 0 ? '' : ` and ${shared.join(', ')}`} add: ${together(given(`l${by}`, observedM, SHIFT), given(`o${by}`, othersM, SHIFT), worked(`g${by}`, `l${by} − o${by}`, observedM - othersM, FOUND))}`,
  ];
}
