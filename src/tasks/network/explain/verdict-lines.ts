import type { AdjustedNetwork } from '../../../core/network/adjust-network.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { entryAt } from '../../../records/present.js';
import type { WorkingStep } from '../../../records/working-step.js';
import { given, inOne, lowered, together, worked } from '../../explain/lines/worked-lines.js';
import { SHIFT, TWO, covarianceForm, determinantForm } from './digits.js';
import { AXES, PAIRS, cofactorFormulas, determinantFormula, determinantOf, givenSix, sixOf } from './six-numbers.js';
import { measuredOf, spreadForm } from './test-lines.js';
import type { Shown } from './test-lines.js';
import type { StationParts } from './station-parts.js';

/** The test that judges each observation, in the network that no control bends; null where nothing measured is shown. */
export function verdictStep(adjusted: AdjustedNetwork, parts: StationParts): WorkingStep | null {
  const measured = measuredOf(parts);
  if (measured.length === 0) return null;
  const anchors = adjusted.anchors.map((index) => entryAt(adjusted.network.control, index).id);
  const judged = measured.map(({ part, count }) => judgedLines(adjusted, part, lowered(count)));
  return {
    title: `Is each observation true? Held by ${anchors.join(' and ')} alone`,
    formula:
      'T = vᵀ (C − Q)⁻¹ v, by the cofactors of C − Q over its determinant D: what vᵀPv loses without the observation; v′ and Q′ of the network without its other control, which must not judge what it may have bent',
    substitution: judged.flatMap(({ lines }) => lines),
    result: judged.map(({ said }) => said),
    source: 'BAARDA-1968; docs/methods/network.md',
  };
}

function judgedLines(
  { free, final }: AdjustedNetwork,
  part: Shown,
  by: string,
): { readonly lines: readonly string[]; readonly said: string } {
  const { kind, index } = part.origin;
  const inFree = free.solved.built.origins.equationOf(kind, index);
  const [tested, at] = entryAt(free.tests.checkedDirections, inFree) === 0 ? [final, part.at] : [free, inFree];
  const test = tested.tests.of(at);
  const rows = test.residuals.length;
  const directions = test.checkedDirections;
  const limit = directions === 0 ? null : tested.limits.block(directions);
  const whole = tested === free ? '' : ' (only control checks it: in the whole)';
  if (directions < rows || limit === null)
    return {
      lines: [],
      said: `${part.label}: ${directions === 0 ? 'nothing else checks it' : 'the others check it in part'}; not tested here`,
    };
  const said = `${part.label}${whole}: T ${formatFixed(test.blockTest, 2)} with ${String(directions)} degree${directions === 1 ? '' : 's'} of freedom, limit ${formatFixed(limit, 2)}: ${test.blockTest > limit ? 'it fails' : 'within'}`;
  const q = new Float64Array(rows * rows);
  tested.cofactors.ofObservation(at, q);
  if (part.kind === 'number') {
    return {
      lines: [
        `${part.label}: ${together(
          given(`v${by}′`, entryAt(test.residuals, 0), SHIFT),
          given(`Q${by}′`, q[0]!, spreadForm([1 / part.weight])),
          worked(`T${by}`, `v${by}′² / (σ${by}² − Q${by}′)`, test.blockTest, TWO),
        )}`,
      ],
      said,
    };
  }
  const six = sixOf(q);
  const covariance = part.covariance;
  const spread = covariance.map((value, k) => value - entryAt(six, k));
  const name = (pair: string): string => `V${pair}${by}`;
  const of = cofactorFormulas(name);
  const v = (axis: string): string => `v${axis}${by}′`;
  const form = spreadForm(covariance);
  const shown = { ...covarianceForm(spread), decimals: Math.max(0, form.decimals - 2) };
  return {
    lines: [
      `${part.label}: ${inOne(AXES.map((axis, i) => given(v(axis), entryAt(test.residuals, i), SHIFT)))}`,
      givenSix((pair) => `Q${pair}${by}′`, six, form),
      inOne(PAIRS.map((pair, k) => worked(name(pair), `C${pair}${by} − Q${pair}${by}′`, entryAt(spread, k), shown))),
      together(
        worked(`D${by}′`, determinantFormula(name), determinantOf(spread), determinantForm(determinantOf(spread))),
        worked(
          `T${by}`,
          `(${v('X')}²·${of.XX} + ${v('Y')}²·${of.YY} + ${v('Z')}²·${of.ZZ} + 2·(${v('X')}·${v('Y')}·${of.XY} + ${v('X')}·${v('Z')}·${of.XZ} + ${v('Y')}·${v('Z')}·${of.YZ})) / D${by}′`,
          test.blockTest,
          TWO,
        ),
      ),
    ],
    said,
  };
}
