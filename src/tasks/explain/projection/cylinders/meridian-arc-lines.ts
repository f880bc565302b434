import type { KruegerWorking } from '../../../../core/projection/methods/krueger-working.js';
import { LENGTH, NUMBER14, together, worked } from '../../lines/worked-lines.js';
import { conformal } from '../grid-lines.js';
import { arcFormula, coefficientLines } from './transverse-mercator-lines.js';

/** The arcs of the meridian to a place and to the origin of a grid, metres, worked. Reference: KARNEY-2011, equation 35. */
export function meridianArcLines(
  {
    own,
    origin,
    arcM,
    originArcM,
  }: {
    readonly own: KruegerWorking;
    readonly origin: KruegerWorking;
    readonly arcM: number;
    readonly originArcM: number;
  },
  spherical: boolean,
): readonly string[] {
  if (spherical) return [worked('M', 'a·φ', arcM, LENGTH), worked('M₀', 'a·φ₀', originArcM, LENGTH)];
  return [
    ...coefficientLines(own, false),
    together(
      worked('χ', `atan(${conformal('φ', false)})`, own.xiPrime, NUMBER14),
      worked('χ₀', `atan(${conformal('φ₀', false)})`, origin.xiPrime, NUMBER14),
    ),
    worked('M', `M_R·(${arcFormula('χ')})`, arcM, LENGTH),
    worked('M₀', `M_R·(${arcFormula('χ₀')})`, originArcM, LENGTH),
  ];
}
