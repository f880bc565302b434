import { entryAt } from '../../../records/present.js';
import type { WorkingStep } from '../../../records/working-step.js';
import { INPUT, given, inOne, lowered, stated, together, worked } from '../../explain/lines/worked-lines.js';
import { FOUND, covarianceForm, determinantForm, weightDeterminantForm, weightForm, weightedForm } from './digits.js';
import { saidOf } from './equation-lines.js';
import {
  AXES,
  PAIRS,
  cofactorFormulas,
  determinantFormula,
  determinantOf,
  entryName,
  givenSix,
  sixOf,
} from './six-numbers.js';
import type { NumberPart, PlacePart, StationParts } from './station-parts.js';

/** The weight of each observation from its covariance. */
export function weightStep({ shown }: StationParts): WorkingStep {
  return {
    title: 'Weights',
    formula: 'P = C⁻¹, by the cofactors of the covariance C over its determinant D; of one number p = 1 / σ²',
    substitution: shown.flatMap((part, at) => {
      const by = lowered(at + 1);
      const { label } = part;
      if (part.kind === 'number') {
        const { weight } = part;
        const sigma = 1 / Math.sqrt(weight);
        return [
          `${label}: ${together(stated(`σ${by}`, sigma, { unit: ' mm', perOne: 1000, decimals: 12 }, 1), worked(`p${by}`, `1 / σ${by}²`, weight, weightForm([weight])))}`,
        ];
      }
      const six = sixOf(part.weight);
      const { covariance } = part;
      const name = (pair: string): string => `C${pair}${by}`;
      const of = cofactorFormulas(name);
      return [
        `${label}: ${givenSix(name, covariance, covarianceForm(covariance))}`,
        worked(
          `D${by}`,
          determinantFormula(name),
          determinantOf(covariance),
          determinantForm(determinantOf(covariance)),
        ),
        inOne(
          PAIRS.map((pair, k) => worked(`p${pair}${by}`, `${of[pair]} / D${by}`, entryAt(six, k), weightForm(six))),
        ),
      ];
    }),
    result: [],
    source: 'AITKEN-1935; docs/methods/network.md',
  };
}

/** The normal equations of the station, its neighbours as adjusted, and their solution. */
export function normalStep(id: string, parts: StationParts): WorkingStep {
  const isHeight = parts.about.length === 1;
  return {
    title: `The normal equations of ${id}`,
    formula: isHeight
      ? 'N·δH = t, N = Σ p, t = Σ p·a·g; the neighbours as adjusted'
      : 'N·δ = t, N = Σ AᵀPA, t = Σ AᵀPg; δ by cofactors of N over its determinant D. The neighbours stand as adjusted: the whole has such equations of every station, and this is where they meet',
    substitution: isHeight ? heightNormals(parts) : placeNormals(parts),
    result: [],
    source: 'AITKEN-1935; docs/methods/network.md',
  };
}

function heightNormals({ shown, summed, about, shiftM }: StationParts): readonly string[] {
  const numbers = shown.filter((part): part is NumberPart => part.kind === 'number');
  const own = numbers.reduce((sum, { weight }) => sum + weight, 0) + (summed?.normal[0] ?? 0); // none more: nothing is added
  const right =
    numbers.reduce((sum, { weight, along, observedM, othersM }) => sum + weight * along[0] * (observedM - othersM), 0) +
    (summed?.right[0] ?? 0); // as above
  const more = summed === null ? '' : ' + ';
  return [
    ...(summed === null
      ? []
      : [
          `${summed.label}: ${together(given('N₀', summed.normal[0]!, weightForm([own])), given('t₀', summed.right[0]!, weightedForm([own])))}`,
        ]),
    worked(
      'N',
      `${numbers.map((_, at) => `p${lowered(at + 1)}`).join(' + ')}${more && `${more}N₀`}`,
      own,
      weightForm([own]),
    ),
    worked(
      't',
      `${numbers.map((_, at) => `p${lowered(at + 1)}·a${lowered(at + 1)}·g${lowered(at + 1)}`).join(' + ')}${more && `${more}t₀`}`,
      right,
      weightedForm([own]),
    ),
    worked('δH', 't / N', entryAt(shiftM, 0), FOUND),
    worked('H', 'H₀ + δH', entryAt(about, 0) + entryAt(shiftM, 0), { ...INPUT, decimals: 4 }),
  ];
}

/** The sums of the normal equations, as formulas. */
function sumsOf({ shown, summed }: StationParts): {
  readonly terms: (i: number, j: number) => string;
  readonly rightTerms: (i: number) => string;
} {
  const by = (at: number): string => lowered(at + 1);
  const terms = (i: number, j: number): string =>
    [
      ...shown.map((part, at) =>
        part.kind === 'place'
          ? `p${entryName(i, j)}${by(at)}`
          : `p${by(at)}·a${entryAt(AXES, i)}${by(at)}·a${entryAt(AXES, j)}${by(at)}`,
      ),
      ...(summed === null ? [] : [`N${entryName(i, j)}₀`]),
    ].join(' + ');
  const rightTerms = (i: number): string =>
    [
      ...shown.map((part, at) =>
        part.kind === 'place'
          ? AXES.map((axis, j) => `p${entryName(i, j)}${by(at)}·g${axis}${by(at)}`).join(' + ')
          : `p${by(at)}·a${entryAt(AXES, i)}${by(at)}·g${by(at)}`,
      ),
      ...(summed === null ? [] : [`t${entryAt(AXES, i)}₀`]),
    ].join(' + ');
  return { terms, rightTerms };
}

function placeNormals(parts: StationParts): readonly string[] {
  const { shown, summed, about, shiftM } = parts;
  const normal = Float64Array.from(summed?.normal ?? new Float64Array(9)); // none more: sums begin at nothing
  const right = Float64Array.from(summed?.right ?? new Float64Array(3)); // as above
  for (const part of shown) addPart(part, about, normal, right);
  const six = sixOf(normal);
  const [form, rightForm] = [weightForm(six), weightedForm(six)];
  const { terms, rightTerms } = sumsOf(parts);
  const of = cofactorFormulas((pair) => `N${pair}`);
  const determinant = determinantOf(six);
  return [
    ...(summed === null
      ? []
      : [
          `${summed.label}: ${givenSix((pair) => `N${pair}₀`, sixOf(summed.normal), { ...form, decimals: form.decimals + 3 })}`,
          inOne(
            AXES.map((axis, k) =>
              given(`t${axis}₀`, summed.right[k]!, { ...rightForm, decimals: rightForm.decimals + 3 }),
            ),
          ),
        ]),
    ...[0, 1, 2].flatMap((i) =>
      [0, 1, 2].flatMap((j) => (j < i ? [] : [worked(`N${entryName(i, j)}`, terms(i, j), normal[3 * i + j]!, form)])),
    ),
    ...[0, 1, 2].map((i) => worked(`t${entryAt(AXES, i)}`, rightTerms(i), right[i]!, rightForm)),
    worked(
      'D',
      determinantFormula((pair) => `N${pair}`),
      determinant,
      weightDeterminantForm(determinant),
    ),
    ...AXES.map((axis, i) =>
      worked(
        `δ${axis}`,
        `(${AXES.map((other, j) => `${of[entryName(i, j) as keyof typeof of]}·t${other}`).join(' + ')}) / D`,
        entryAt(shiftM, i),
        FOUND,
      ),
    ),
    inOne(
      AXES.map((axis, i) =>
        worked(axis, `${axis}₀ + δ${axis}`, entryAt(about, i) + entryAt(shiftM, i), { ...INPUT, decimals: 4 }),
      ),
    ),
  ];
}

function addPart(
  part: PlacePart | NumberPart,
  about: readonly number[],
  normal: Float64Array,
  right: Float64Array,
): void {
  for (let i = 0; i < 3; i += 1)
    for (let j = 0; j < 3; j += 1)
      if (part.kind === 'place') {
        normal[3 * i + j]! += part.weight[3 * i + j]!;
        right[i]! += part.weight[3 * i + j]! * saidOf(part, j, about);
      } else normal[3 * i + j]! += part.weight * entryAt(part.along, i) * entryAt(part.along, j);
  if (part.kind === 'number')
    for (let i = 0; i < 3; i += 1) right[i]! += part.weight * entryAt(part.along, i) * (part.observedM - part.othersM);
}
