import type { LineRow, Placed } from '../../../records/network-rows.js';
import { locateProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';

/** What a line measures. */
export type LineKind = 'levelled difference' | 'distance';

/** Sigma from which a line is doubted, metres: levels and distances are known to millimetres and centimetres. Common practice, no published source. */
const DOUBTED_SIGMA_M = 0.2;

/**
 * Levelled differences or distances, each once: one that is there again number for number, as it stands or from the other end, was pasted twice, and would
 * count twice and check itself.
 *
 * Given: the lines of one kind. Returned: each once in their order, with a warning for each one more; and a warning for each whose sigma is
 * 0.2 m or more, as millimetres typed for metres are.
 */
export function copiedLines(
  lines: readonly Placed<LineRow>[],
  kind: LineKind,
): { readonly lines: readonly Placed<LineRow>[]; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const met = new Map<string, Placed<LineRow>>();
  const kept = lines.filter((one) => {
    const { value } = one;
    const first = met.get(keyOf(value)) ?? met.get(keyOf(turned(value, kind)));
    if (first !== undefined) {
      problems.push(copied(one, first, kind));
      return false;
    }
    met.set(keyOf(value), one);
    if (value.sigmaM >= DOUBTED_SIGMA_M) problems.push(doubted(one, kind));
    return true;
  });
  return { lines: kept, problems };
}

function keyOf({ fromId, toId, valueM, sigmaM, fromUpM, toUpM, zenithDeg, air }: LineRow): string {
  return JSON.stringify([fromId, toId, valueM, sigmaM, fromUpM, toUpM, zenithDeg, air]);
}

/** The same from the other end; a zenith angle there is another measurement, whatever it says. */
function turned(line: LineRow, kind: LineKind): LineRow {
  const valueM = kind === 'distance' ? line.valueM : 0 - line.valueM;
  return { ...line, fromId: line.toId, toId: line.fromId, valueM, fromUpM: line.toUpM, toUpM: line.fromUpM };
}

function copied(
  { value: { fromId, toId }, place }: Placed<LineRow>,
  { place: first }: Placed<LineRow>,
  kind: LineKind,
): Problem {
  return locateProblem(
    warningProblem('network-copied', {
      message: `${kind} ${fromId} to ${toId} is that of ${first.source} line ${String(first.line)}, number for number`,
      hint: 'it counts once; where both were measured, give their mean and its sigma',
    }),
    { source: place.source, line: place.line },
  );
}

function doubted({ value: { fromId, toId, sigmaM }, place }: Placed<LineRow>, kind: LineKind): Problem {
  return locateProblem(
    warningProblem('network-sigma-large', {
      message: `${kind} ${fromId} to ${toId} has a sigma of ${String(sigmaM)} m, and weighs next to nothing`,
      received: String(sigmaM),
      hint: 'sigma_m is in metres: 4 mm are 0.004',
    }),
    { source: place.source, line: place.line },
  );
}
