import type { LegWorking } from '../working/leg-working.js';
import { motionName } from '../../../core/frames/plates/point-motion.js';
import { yearText } from '../../../core/frames/realisations/realisation-chain.js';
import type { RealisationChain } from '../../../core/frames/realisations/realisation-chain.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PointOnTheWay } from '../point-on-the-way.js';
import type { Leg, Step, Way } from '../step.js';
import { recordedOf, reversedLegs, saidOf, wayOf } from '../step.js';
import { motionStep } from './motion-step.js';
import { shiftStep } from './shift-step.js';

/** What anyone who uses a chain should do with it; the agency is the authority. */
export const CHAIN_CAUTION =
  'the stations of the agency itself are the authority: observe one of them in the same way, and compare';

/**
 * The chain between an international frame at an epoch and a national one: published sets and a motion in time, each said
 * with its accuracy, and the whole with its sigma. Forward leads to the national frame. Problems: those of the operations.
 */
export function realisationStep(chain: RealisationChain): Outcome<Step> {
  const legs: Leg[] = [];
  for (const link of chain.links) {
    if (link.kind === 'motion') {
      legs.push({ step: motionStep(link.motion), direction: 'forward' });
      continue;
    }
    const { operation, direction } = link.match;
    const step = shiftStep({ shift: operation.shift, id: operation.code, caution: operation.caution }, link.epochYear);
    if (!step.ok) return failureOf(step.problems);
    legs.push({ step: step.value, direction });
  }
  const back = reversedLegs(legs);
  return success({
    forward: geocentricWay(legs),
    inverse: geocentricWay(back),
    said: (direction) => [
      ...saidOf(direction === 'forward' ? legs : back),
      `${definition(chain)} (${chain.realisation.source.key}): ${sigmaText(chain)}`,
      CHAIN_CAUTION,
    ],
    working: (direction, before) => workingOf(direction === 'forward' ? legs : back, before),
    recorded: (direction) => [
      ...recordedOf(direction === 'forward' ? legs : back),
      {
        id: 'chain',
        name: `${direction === 'forward' ? 'to' : 'from'} ${definition(chain)}`,
        accuracyM: Math.round(chain.sigma.totalM * 1e4) / 1e4,
        origin: `${chain.realisation.source.key}, ${chain.realisation.source.locator}`,
      },
    ],
  });
}

function definition({ realisation: { name, itrf, epochYear, operation } }: RealisationChain): string {
  return operation === null ? `${name} as ${itrf} at ${yearText(epochYear)}` : `${name} by ${operation} from ${itrf}`;
}

/** The links of a chain in one line: codes of operations and what moves the points. */
export function linkWords({ links }: RealisationChain): string {
  const words = links.map((link) =>
    link.kind === 'motion'
      ? `${motionName(link.motion.by)} from ${yearText(link.motion.fromYear)} to ${yearText(link.motion.toYear)}`
      : `${link.match.operation.code}${link.match.direction === 'inverse' ? ' backwards' : ''} at ${yearText(link.epochYear)}`,
  );
  return words.join(', then ');
}

/** The sigma of the whole and its parts, as people read it. */
export function sigmaText({ sigma, years }: RealisationChain): string {
  const parts = [`published operations ${formatFixed(sigma.operationsM, 3)}`];
  if (years > 0)
    parts.push(
      sigma.motionM === null
        ? `the motion over ${formatFixed(years, 1)} years not stated`
        : `the plate over ${formatFixed(years, 1)} years ${formatFixed(sigma.motionM, 3)}`,
    );
  parts.push(`its realisation ${formatFixed(sigma.realisationM, 3)} (an assumption)`);
  return `${formatFixed(sigma.totalM, 3)} m one sigma an axis (${parts.join(', ')})`;
}

function geocentricWay(legs: readonly Leg[]): Way {
  const moves = legs.map((leg) => wayOf(leg).run);
  return {
    needs: 'geocentric',
    gives: 'geocentric',
    run(point: PointOnTheWay) {
      for (const move of moves) {
        const problem = move(point);
        if (problem !== null) return problem;
      }
      return null;
    },
  };
}

/** The working of each leg, from the point that the one before it leaves. */
function workingOf(legs: readonly Leg[], start: PointOnTheWay): readonly LegWorking[] {
  let before = start;
  return legs.flatMap((leg) => {
    const after = { ...before };
    if (wayOf(leg).run(after) !== null) return [];
    const shown = leg.step.working?.(leg.direction, before, after) ?? NOT_SHOWN;
    before = after;
    const [title = null] = leg.step.said(leg.direction);
    const origin = leg.step.recorded(leg.direction)[0]?.origin ?? null;
    return shown.map((own) => ({ ...own, title, source: own.source ?? origin }));
  });
}
const NOT_SHOWN: readonly LegWorking[] = [];
