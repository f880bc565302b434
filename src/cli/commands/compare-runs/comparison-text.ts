import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { SAME_OBSERVATIONS_SHARE } from '../../../core/quality/decision-levels.js';
import type { MovementLimits, RunChange } from '../../../tasks/job/runs/compare-runs.js';
import type { ComparisonSummary, RunDifference } from '../../../tasks/job/runs/comparison-summary.js';

/** Rows and settings that a person reads without having asked for more. */
const SHOWN = 20;
const m = (metres: number): string => `${formatFixed(metres, 4)} m`;

/** A comparison in a few lines. */
export function comparisonLines(
  changes: readonly RunChange[],
  summary: ComparisonSummary,
  limits: MovementLimits,
  differences: readonly RunDifference[],
): readonly string[] {
  const { counts, compared, common, largest } = summary;
  return [
    `${compared} compared: ${counts.moved} moved, ${counts.undecided} undecided; ${counts.appeared} appeared, ${counts.vanished} vanished, ${summary.verdictChanged} with another verdict`,
    ...judgedBy(summary, limits),
    ...(largest.length === 0
      ? []
      : [
          `largest movement ${largest.map(({ figure, value, at }) => `${m(value)} ${WORDS[figure] ?? figure} (${at})`).join(', ')}`,
        ]),
    ...(common === null
      ? []
      : [
          `median of all: ${m(common.eastM)} east, ${m(common.northM)} north${common.upM === null ? '' : `, ${m(common.upM)} up`}; without it at most ${m(common.leftHorizontalM)} in plan${common.leftVerticalM === null ? '' : `, ${m(common.leftVerticalM)} in height`}`,
        ]),
    ...shortened(
      changes
        .filter(({ change, reasons }) => change !== 'kept' || reasons.length > 0)
        .map(({ pointId, occupation, change, reasons, ...own }) => {
          const moved =
            own.eastM === null || own.northM === null
              ? ''
              : ` ${m(Math.hypot(own.eastM, own.northM))} in plan${own.upM === null ? '' : `, ${m(own.upM)} up`}`;
          const verdicts = reasons.includes('run-verdict-changed')
            ? `, ${own.verdictBefore} -> ${own.verdictAfter}`
            : '';
          return `${occupation === '' ? pointId : `${pointId}@${occupation}`}: ${change}${moved}${verdicts} [${reasons.join(', ')}]`;
        }),
    ),
    ...(differences.length === 0 ? [] : ['what differs between the runs:']),
    ...shortened(
      differences.map(({ key, before, after }) => `${key}: ${before ?? 'not set'} -> ${after ?? 'not set'}`),
    ),
  ];
}

const WORDS: Readonly<Record<string, string>> = {
  horizontal_difference_m: 'in plan',
  vertical_difference_m: 'in height',
};

function shortened(lines: readonly string[]): readonly string[] {
  const shown = lines.slice(0, SHOWN).map((line) => `  ${line}`);
  return lines.length > SHOWN ? [...shown, `  and ${lines.length - SHOWN} more`] : shown;
}

/** How movements were judged, and what became of errors that both runs share. */
function judgedBy(
  { compared, sameObservations, unknownSetups }: ComparisonSummary,
  limits: MovementLimits,
): readonly string[] {
  const byLimit = [
    ...(limits.horizontalM === null ? [] : [`plan by ${m(limits.horizontalM)}`]),
    ...(limits.verticalM === null ? [] : [`height by ${m(limits.verticalM)}`]),
  ];
  const others = compared - sameObservations;
  return [
    ...(byLimit.length === 0 ? [] : [`judged: ${byLimit.join(', ')}`]),
    ...(byLimit.length === 2 || sameObservations === 0
      ? []
      : [
          `${sameObservations} of the same observations, whose errors are the same: judged by ${formatFixed(SAME_OBSERVATIONS_SHARE, 1)} of their own 95 %`,
        ]),
    ...(byLimit.length === 2 || others === 0
      ? []
      : [
          `${others} observed anew: judged by the covariance of the difference, what base and set-up share taken out${unknownSetups === 0 ? '' : `; of ${unknownSetups} that share is not known (--session says it), so that they moved only where they did without any`}`,
        ]),
  ];
}
