import type { AntennaMoving } from '../../core/observation/stand-tests/antenna-moving.js';
import { InternalError } from '../../records/internal-error.js';
import type { WorkingStep } from '../../records/working-step.js';
import type { ReducedOccupation } from '../reduce/reduction-working.js';
import { LISTED_EPOCHS } from './explain-average.js';
import { metres, millimetres } from './explain-text.js';
import { MILLIMETRES, NUMBER, SMALL, given, together, withDecimals, worked } from './lines/worked-lines.js';

/** What the epochs say of the antenna; what too few of them cannot say is said to be untested. */
export function testStep({ working }: ReducedOccupation): WorkingStep {
  const { tests, average } = working;
  if (tests === null || average === null) throw new InternalError('no tests to explain');
  const { motion } = tests;
  const used = average.tooManyOutliers ? average.outlier.length : average.usedCount;
  const isTested = tests.east.stepAt !== null;
  return {
    title: 'Did the antenna stand still, and had the solution settled?',
    formula:
      'drift = Theil–Sen slope × time; step = mean after − mean before; each against the scatter seen and the noise the model expects, by Student’s distribution',
    substitution: [
      ...(average.outlierCount > 0 && !average.tooManyOutliers
        ? ['of the epochs kept: the rows of the table whose k is 1']
        : []),
      ...(isTested
        ? (['east', 'north', 'up'] as const).flatMap((axis) => trendLines(axis, tests[axis], used))
        : [
            `drift and step are not tested: they need 6 epochs over some time, and there ${used === 1 ? 'is 1' : `are ${String(used)}`}`,
          ]),
      ...(average.outlier.length < 4 ? ['with so few epochs a wrong one can hardly be told from a right one'] : []),
    ],
    result: [
      motion.isMoving
        ? `moved: ${metres(motion.displacementM)} between first and last third and ${metres(motion.riseM)} in height`
        : `${stillWords(motion, isTested)}: ${millimetres(motion.displacementM)} between first and last third and ${millimetres(motion.riseM)} in height, spread ${millimetres(motion.spreadM)} and ${millimetres(motion.spreadUpM)}`,
    ],
    source: 'SEN-1968; docs/methods/averaging.md',
  };
}

/** What is known of an antenna that was not seen to move: where drift and step are not tested, no more than that; of one instant nothing. */
function stillWords({ speedMetresPerSecond }: AntennaMoving, isTested: boolean): string {
  if (isTested) return 'stood still';
  return speedMetresPerSecond === null
    ? 'not tested: no time passed'
    : 'not seen to move, but drift and step are not tested';
}

/** The slope of more epochs is that of the means of blocks, which the table does not hold. */
const MOST_OF_PAIRS = 60;

function trendLines(
  axis: 'east' | 'north' | 'up',
  test: NonNullable<ReducedOccupation['working']['tests']>['east'],
  count: number,
): readonly string[] {
  const letter = axis.slice(0, 1).toUpperCase();
  const at = String(test.stepAt);
  const listed = count <= LISTED_EPOCHS;
  const drift = `drift_${letter}`;
  const step = `step_${letter}`;
  return [
    together(
      count <= MOST_OF_PAIRS
        ? worked(drift, `(max(t) − min(t))·median(slopes(t, ${letter}))`, test.driftM, MILLIMETRES)
        : given(drift, test.driftM, SMALL),
      given(`s_${letter}`, test.driftSigmaM, SMALL),
      worked(
        `q_${letter}`,
        `|${drift}| / s_${letter}`,
        Math.abs(test.driftM) / test.driftSigmaM,
        withDecimals(NUMBER, 2),
      ),
    ) + (test.isDrift ? ' (significant)' : ''),
    together(
      listed
        ? worked(step, `mean(after(${letter}, ${at})) − mean(before(${letter}, ${at}))`, test.stepM, MILLIMETRES)
        : given(step, test.stepM, SMALL),
      given(`S_${letter}`, test.stepSigmaM, SMALL),
      worked(`Q_${letter}`, `|${step}| / S_${letter}`, Math.abs(test.stepM) / test.stepSigmaM, withDecimals(NUMBER, 2)),
    ) + (test.isStep ? ' (significant)' : ''),
  ];
}
