import { pushAll } from '../../../../core/numeric/push-all.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import type { AdjustedNetwork, GlobalTest } from '../../../../core/network/adjust-network.js';
import type { NetworkPair } from '../../../../records/reports/network-report.js';
import { pullSentence } from '../../../../tasks/network/pull-sentence.js';
import type { NetworkResults } from '../../../../tasks/network/network-results.js';
import { foulSentence, worstFirst } from '../../../../tasks/network/worst-first.js';
import { knownLines } from './base-text.js';
import { distortionLines } from './distortion-text.js';
import { percentText } from './percent-text.js';

/** Lines of one kind shown before the rest is counted. */
const MOST_SHOWN = 10;

const mm = (value: number | null): string => (value === null ? '?' : `${formatFixed(value * 1000, 1)} mm`);
const count = (n: number, word: string, many = `${word}s`): string => `${n} ${n === 1 ? word : many}`;

/** What a run says of itself, line by line, in the order of the work. */
export function networkSummary(
  found: NetworkResults,
  pairs: readonly NetworkPair[],
  withoutPlace: number,
): readonly string[] {
  const { adjusted, points } = found;
  const { network, freeTest, finalTest, free, datum, anchors, control } = adjusted;
  const kinds = [
    count(network.vectors.length, 'vector'),
    ...(network.levelled.length > 0 ? [count(network.levelled.length, 'levelled difference')] : []),
    ...(network.distances.length > 0 ? [count(network.distances.length, 'distance')] : []),
  ];
  const lines = [
    `${count(points.length, 'station')}, ${kinds.join(', ')}, ${count(found.control.length, 'control point')}`,
  ];
  const names = anchors.map((index) => network.control[index]!.id).join(', ');
  lines.push(`observations, held by ${names} alone: ${globalText(freeTest)}`);
  const foul = worstFirst(found);
  for (const row of foul.slice(0, MOST_SHOWN))
    lines.push(
      `  ${row.kind} ${row.fromId} to ${row.toId} does not agree with the others: they say ${row.estimatedBiasM.map(mm).join(', ')} more${row.kind === 'vector' ? ' (x, y, z)' : ''}`,
    );
  if (foul.length > MOST_SHOWN) lines.push(`  and ${foul.length - MOST_SHOWN} more`);
  const many = foulSentence(foul, adjusted);
  if (many !== null) lines.push(`  ${many}`);
  for (const { kind, index, test, limit } of adjusted.excluded.slice(0, MOST_SHOWN)) {
    const own = { vector: network.vectors, levelled: network.levelled, distance: network.distances }[kind][index]!;
    lines.push(
      `  ${kind} ${own.fromId} to ${own.toId} is left out: ${test === null || limit === null ? 'it lies far from where most observations meet' : `its test is ${formatFixed(test, 1)}, the limit ${formatFixed(limit, 1)}`}`,
    );
  }
  if (adjusted.excluded.length > MOST_SHOWN) lines.push(`  and ${adjusted.excluded.length - MOST_SHOWN} more left out`);
  for (const { group, factor, sigma } of found.components)
    lines.push(
      `  ${group}: residuals ask for ${formatFixed(Math.sqrt(factor), 2)} times the stated sigmas (variance ${formatFixed(factor, 2)} ± ${formatFixed(sigma, 2)})`,
    );
  pushAll(lines, distortionLines(found));
  pushAll(lines, controlLines(adjusted, found));
  if (datum === 'control' && control !== null) lines.push(`all together: ${globalText(finalTest)}`);
  if (adjusted.scale > 1)
    lines.push(
      `uncertainties hold the variance factor: they are ${formatFixed(Math.sqrt(adjusted.scale), 2)} times the stated`,
    );
  pushAll(lines, uncheckedLines(found));
  pushAll(lines, knownLines(found));
  for (const pair of pairs)
    lines.push(
      `${pair.fromId} to ${pair.toId}, ${formatFixed(pair.distanceM, 1)} m: relative circle 95 % ${mm(pair.summary.circle95M)}, height ${mm(pair.summary.vertical95M)}`,
    );
  const level = free.limits.level;
  lines.push(
    `verdict: ${found.answer}; each observation is tested at ${percentText(level)}, so that one clean network in a hundred alarms`,
  );
  if (withoutPlace > 0) lines.push(`${withoutPlace} rejected occupations without a position were passed over`);
  return lines;
}

function uncheckedLines({ points }: NetworkResults): readonly string[] {
  const unchecked = points.filter(({ isChecked }) => !isChecked);
  if (unchecked.length === 0) return [];
  const names = unchecked.slice(0, MOST_SHOWN).map(({ id }) => id);
  return [
    `nothing checks ${count(unchecked.length, 'station')}: ${names.join(', ')}${unchecked.length > MOST_SHOWN ? ', …' : ''}`,
  ];
}

function globalText({ weightedSquares, degreesOfFreedom, varianceFactor, limits, answer }: GlobalTest): string {
  if (varianceFactor === null || limits === null)
    return 'nothing is observed more often than needed, so that nothing can be tested';
  const numbers = `sum of squares ${formatFixed(weightedSquares, 2)} with ${count(degreesOfFreedom, 'degree')} of freedom (expected ${formatFixed(limits[0], 1)} to ${formatFixed(limits[1], 1)})`;
  switch (answer) {
    case 'too-large':
      return `${numbers}: too large, so there is a blunder, or the stated sigmas are too small`;
    case 'too-small':
      return `${numbers}: too small, so the stated sigmas are larger than the residuals show`;
    default:
      return `${numbers}: as the stated sigmas let expect`;
  }
}

function controlLines({ control, anchors, suspectControl }: AdjustedNetwork, found: NetworkResults): readonly string[] {
  if (control === null)
    return [
      `control: ${count(anchors.length, 'point')} ${anchors.length === 1 ? 'holds' : 'hold'} the network and nothing checks ${anchors.length === 1 ? 'it' : 'them'}: every station moves with ${anchors.length === 1 ? 'it' : 'them'}`,
    ];
  const foul = found.control.filter(({ verdict }) => verdict === 'no');
  const lines = [
    `control against the network: ${formatFixed(control.together, 2)} with ${count(control.degreesOfFreedom, 'degree')} of freedom`,
  ];
  for (const point of foul.slice(0, MOST_SHOWN)) {
    const [e, n, u] = point.differenceM;
    lines.push(
      `  ${point.id} ${point.reasons.includes('network-excluded') ? 'is left out' : 'does not agree'}: network and other control say ${mm(e)} east, ${mm(n)} north, ${mm(u)} up of it`,
    );
  }
  if (foul.length > 1 && suspectControl.length === 0)
    lines.push('  which of them is wrong cannot be told: more control would tell');
  const pulled = pullSentence(found);
  if (pulled !== null) lines.push(`  use no coordinates of this run: ${pulled}`);
  return lines;
}
