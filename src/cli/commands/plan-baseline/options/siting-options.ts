import type { BaseCandidate } from '../../../../core/planning/plan-point.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { PlanSiting } from '../../../../tasks/plan/targets/plan-target.js';
import { flagOf, flagOption, isGiven, numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation, OptionName } from '../../../shell/command-spec.js';
import { parseBasePlace } from './plan-place.js';
import { badOption } from './plan-settings.js';

/** Which of the questions about the base is asked; candidates are read later. Problems: usage-conflict, usage-invalid. */
export type SitingQuestion =
  | Extract<PlanSiting, { readonly kind: 'given' | 'free' }>
  | { readonly kind: 'best' | 'fewest'; readonly path: string }
  | { readonly kind: 'k'; readonly k: number; readonly path: string };

/** See `SitingQuestion`. */
export function sitingQuestion(invocation: Invocation): Outcome<SitingQuestion> {
  const base = textOption(invocation, 'base');
  const path = textOption(invocation, 'candidates');
  const k = numberOption(invocation, 'findBases');
  const fewest = flagOption(invocation, 'fewest');
  if (base !== null) {
    const others = [
      path === null ? '' : '--candidates',
      k === null ? '' : '--find-bases',
      fewest ? '--fewest' : '',
    ].filter((flag) => flag !== '');
    if (others.length > 0)
      return conflict(`--base says where the base stands, and ${others.join(' and ')} asks where`, 'give one of them');
    const idle = idleOf(invocation);
    if (idle !== undefined)
      return conflict(
        `${flagOf(idle)} chooses among --candidates, and --base says where the base stands`,
        'leave it out',
      );
    const place = parseBasePlace(base);
    return place.ok ? success({ kind: 'given', base: place.value }) : place;
  }
  if (k !== null && fewest) return conflict('--find-bases and --fewest ask different questions', 'give one of them');
  if (k !== null && k < 1) return badOption('--find-bases', String(k), '1 or more');
  if (path === null) {
    if (fewest || (k !== null && k > 1))
      return conflict(
        `${fewest ? '--fewest' : `--find-bases ${String(k)}`} needs --candidates to choose among`,
        'without candidates only the best place of one base is found',
      );
    const idle = idleOf(invocation);
    if (idle !== undefined)
      return conflict(`${flagOf(idle)} needs --candidates`, 'give the file of candidates, or leave it out');
    return success({ kind: 'free' });
  }
  return success(fewest ? { kind: 'fewest', path } : k === null ? { kind: 'best', path } : { kind: 'k', k, path });
}

/** An option that says how to choose among candidates. */
function idleOf(invocation: Invocation): OptionName | undefined {
  return (['needCellular', 'minSkyScore', 'maxCost', 'tiePercent'] as const).find((name) => isGiven(invocation, name));
}

function conflict(message: string, hint: string): Outcome<SitingQuestion> {
  return failure(errorProblem('usage-conflict', { message, hint }));
}

/** The siting with its candidates. Problems: usage-invalid for the step of ties. */
export function sitingOf(
  question: SitingQuestion,
  candidates: readonly BaseCandidate[],
  invocation: Invocation,
): Outcome<PlanSiting> {
  if (question.kind === 'given' || question.kind === 'free') return success(question);
  const tiePercent = numberOption(invocation, 'tiePercent') ?? 1;
  if (!(tiePercent >= 0 && tiePercent <= 100)) return badOption('--tie-percent', String(tiePercent), 'from 0 to 100');
  const choice = {
    candidates,
    demands: {
      cellular: flagOption(invocation, 'needCellular'),
      minSkyScore: numberOption(invocation, 'minSkyScore'),
      maxCost: numberOption(invocation, 'maxCost'),
    },
    tieFraction: tiePercent / 100,
  };
  return success(question.kind === 'k' ? { kind: 'k', k: question.k, ...choice } : { kind: question.kind, ...choice });
}
