import type { AdjustedNetwork } from '../../../core/network/adjust-network.js';
import { biasReach } from '../../../core/network/evidence/bias-reach.js';
import { observationAt } from '../../../core/network/blocks/block-equations.js';
import type { BlockObservation } from '../../../core/network/blocks/block-equations.js';
import type { BlockTest } from '../../../core/network/evidence/block-tests.js';
import { isMeasured } from '../../../core/network/equations/equation-origins.js';
import type { TestedNetwork } from '../../../core/network/evidence/judge-observations.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { entryAt, present } from '../../../records/present.js';
import type { WorkingStep } from '../../../records/working-step.js';
import { given, inOne, lowered, together, withDecimals, worked } from '../../explain/lines/worked-lines.js';
import { FOUND, THREE, TWO, covarianceForm, weightForm } from './digits.js';
import { AXES, entryName, givenSix, sixOf } from './six-numbers.js';
import type { NumberPart, PlacePart, StationParts } from './station-parts.js';

const UNCHECKED = 'nothing else checks it: no test, and no bias that would be found';
const PRODUCT = withDecimals(THREE, 6);
const BIAS = withDecimals(FOUND, 2);
/** A covariance that differences are taken of, in fewer digits than weights are made from. */
export const spreadForm = (values: readonly number[]): ReturnType<typeof covarianceForm> => {
  const form = covarianceForm(values);
  return { ...form, decimals: Math.max(0, form.decimals - 1) };
};

export type Shown = PlacePart | NumberPart;

/** Residual, redundancy, w and the smallest detectable bias of each number of the observations of a station. */
export function testStep(adjusted: AdjustedNetwork, parts: StationParts): WorkingStep {
  const { final } = adjusted;
  const isHeight = parts.about.length === 1;
  const measured = measuredOf(parts);
  return {
    title: 'Residuals and tests of each number',
    formula:
      'v = A x − l; Q = A N⁻¹ Aᵀ, of the whole network; redundancy r = 1 − (PQ)ᵢᵢ; S = P − PQP; w = (Pv)ᵢ / √Sᵢᵢ; the bias that is found four times in five b = √(λ₀ / Sᵢᵢ)',
    substitution: measured.flatMap(({ part, count }) =>
      part.kind === 'place'
        ? placeTests(final, part, lowered(count))
        : numberTests(final, part, lowered(count), isHeight),
    ),
    result: measured.map(({ part }) => reachOf(adjusted, part, parts.station)),
    source: 'BAARDA-1968; docs/methods/network.md',
  };
}

/** The observations among what is shown, each with its number. */
export function measuredOf({ shown }: StationParts): readonly { readonly part: Shown; readonly count: number }[] {
  return shown.flatMap((part, at) => (isMeasured(part.origin.kind) ? [{ part, count: at + 1 }] : []));
}

/** λ₀ of the test of an observation; null where nothing checks it. */
function noncentralityOf({ tests, limits }: TestedNetwork, at: number): number | null {
  const directions = entryAt(tests.checkedDirections, at);
  return directions === 0 ? null : limits.noncentrality(directions);
}

/** Names of the numbers of an observation, and of entries of its matrices. */
function namesOf(by: string): {
  readonly name: (letter: string, axis: number) => string;
  readonly entry: (letter: string, i: number, j: number) => string;
  readonly product: (i: number, j: number) => string;
} {
  return {
    name: (letter, axis) => `${letter}${entryAt(AXES, axis)}${by}`,
    entry: (letter, i, j) => `${letter}${entryName(i, j)}${by}`,
    product: (i, j) => `h${entryAt(AXES, i)}${entryAt(AXES, j)}${by}`,
  };
}

/** Three terms with a plus between them. */
const summed = (term: (at: number) => string): string => AXES.map((_, at) => term(at)).join(' + ');

function placeTests(final: TestedNetwork, part: PlacePart, by: string): readonly string[] {
  const test = final.tests.of(part.at);
  const q = new Float64Array(9);
  final.cofactors.ofObservation(part.at, q);
  const { name, entry, product } = namesOf(by);
  const p = part.weight;
  const fitted = (i: number, j: number): number => [0, 1, 2].reduce((sum, k) => sum + p[3 * i + k]! * q[3 * k + j]!, 0);
  const residual = (axis: string, i: number): string =>
    part.sign === 1 ? `δ${axis} − ${name('g', i)}` : `${name('g', i)} − δ${axis}`;
  return [
    `${part.label}: ${inOne(AXES.map((axis, i) => worked(name('v', i), residual(axis, i), entryAt(test.residuals, i), FOUND)))}`,
    givenSix((pair) => `Q${pair}${by}`, sixOf(q), spreadForm(sixOf(q))),
    ...[0, 1, 2].map((i) =>
      inOne(
        [0, 1, 2].map((j) =>
          worked(
            product(i, j),
            summed((k) => `${entry('p', i, k)}·${entry('Q', k, j)}`),
            fitted(i, j),
            PRODUCT,
          ),
        ),
      ),
    ),
    inOne(AXES.map((_, i) => worked(name('r', i), `1 − ${product(i, i)}`, entryAt(test.redundancy, i), THREE))),
    ...axisTests(test, part, by, noncentralityOf(final, part.at)),
  ];
}

/** w and the smallest detectable bias of each number that the others check. */
function axisTests(
  { w, detectability }: BlockTest,
  { weight }: PlacePart,
  by: string,
  lambda: number | null,
): readonly string[] {
  const { name, entry, product } = namesOf(by);
  const checked = [0, 1, 2].filter((i) => w[i] !== null);
  if (checked.length === 0 || lambda === null) return [UNCHECKED];
  const spread = checked.map((i) => entryAt(detectability, i));
  const form = withDecimals(weightForm(spread), weightForm(sixOf(weight)).decimals - 1);
  const within = (i: number): string =>
    `${entry('p', i, i)} − (${summed((j) => `${product(i, j)}·${entry('p', j, i)}`)})`;
  const test = (i: number): string =>
    `(${summed((j) => `${entry('p', i, j)}·${name('v', j)}`)}) / √${entry('S', i, i)}`;
  const bias = (i: number): string =>
    worked(name('b', i), `√(λ₀ / ${entry('S', i, i)})`, Math.sqrt(lambda / entryAt(detectability, i)), BIAS);
  return [
    inOne(checked.map((i, k) => worked(entry('S', i, i), within(i), entryAt(spread, k), form))),
    inOne(checked.map((i) => worked(name('w', i), test(i), present(w[i], 'a test'), TWO))),
    inOne([given('λ₀', lambda, withDecimals(TWO, 6)), inOne(checked.map(bias))]),
  ];
}

function numberTests(final: TestedNetwork, part: NumberPart, by: string, isHeight: boolean): readonly string[] {
  const test = final.tests.of(part.at);
  const q = new Float64Array(1);
  final.cofactors.ofObservation(part.at, q);
  const [w] = test.w;
  const lambda = noncentralityOf(final, part.at);
  const v = isHeight ? `a${by}·δH − g${by}` : `${AXES.map((axis) => `a${axis}${by}·δ${axis}`).join(' + ')} − g${by}`;
  const own = spreadForm([1 / part.weight]);
  return [
    `${part.label}: ${together(
      worked(`v${by}`, v, entryAt(test.residuals, 0), FOUND),
      given(`Q${by}`, q[0]!, own),
      worked(`r${by}`, `1 − p${by}·Q${by}`, entryAt(test.redundancy, 0), THREE),
    )}`,
    w === null || w === undefined || lambda === null
      ? UNCHECKED
      : together(
          worked(
            `S${by}`,
            `p${by}·(1 − p${by}·Q${by})`,
            test.detectability[0]!,
            withDecimals(weightForm([part.weight]), weightForm([part.weight]).decimals - 1),
          ),
          worked(`w${by}`, `p${by}·v${by} / √S${by}`, w, TWO),
          given('λ₀', lambda, withDecimals(TWO, 6)),
          worked(`b${by}`, `√(λ₀ / S${by})`, Math.sqrt(lambda / test.detectability[0]!), BIAS),
        ),
  ];
}

/** How far an observation moves the station: by its sigma, and by a blunder that is just not found. */
function reachOf({ final }: AdjustedNetwork, { at, label }: Shown, station: number): string {
  const { solution } = final.solved;
  const observation = observationAt(solution.equations, at);
  const size = present(solution.equations.sizes[station], 'the size of a station');
  const across = new Float64Array(observation.observed.length * size);
  final.cofactors.acrossTo(station, at, across);
  const influence = formatFixed(Math.sqrt(influenceSquared(across, observation)) * 1000, 2);
  // Without a test there is no bias that it finds, and the reach itself says whether it moves the station.
  const reach = biasReach(solution, final.cofactors)(at, station) * Math.sqrt(noncentralityOf(final, at) ?? 1);
  return `${label}: its sigma moves the station by ${influence} mm; ${reach === Infinity ? 'nothing checks it: a blunder in it goes into the station whole' : `a blunder that just hides moves it by ${formatFixed(reach * 1000, 2)} mm at most`}`;
}

/** The square of how far one sigma of each number of an observation moves a station, together. */
function influenceSquared(across: Float64Array, { weight, observed }: BlockObservation): number {
  const m = observed.length;
  let moved = 0;
  for (let a = 0; a < across.length / m; a += 1)
    for (let r = 0; r < m; r += 1) {
      let by = 0;
      for (let s = 0; s < m; s += 1) by += across[a * m + s]! * weight[s * m + r]!;
      moved += by * by * (1 / weight[r * m + r]!);
    }
  return moved;
}
