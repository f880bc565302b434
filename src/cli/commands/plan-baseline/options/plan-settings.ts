import { HORIZONTAL_95, VERTICAL_95 } from '../../../../core/observation/uncertainty/confidence-factors.js';
import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Failure, Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type {
  ConstantPlusProportion,
  PrecisionSettings,
  Session,
  ToleranceSettings,
} from '../../../../records/session.js';
import type { PlanChoices } from '../../../../files/plan/load-plan.js';
import { flagOption, isGiven, numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation, OptionName } from '../../../shell/command-spec.js';
import type { ResolvedSession } from '../../../inputs/session-settings.js';

/** A failure for an option whose value cannot be used. */
export function badOption(flag: string, received: string, expected: string): Failure {
  return failure(
    errorProblem('usage-invalid', { message: `${flag} ${received} is not ${expected}`, received, expected }),
  );
}

/** The session with the plan's own options laid over it. Problems: usage-invalid, usage-conflict. */
export function overridePlanSettings(resolved: ResolvedSession, invocation: Invocation): Outcome<ResolvedSession> {
  const precision = precisionOf(resolved.session.precision, invocation);
  if (!precision.ok) return precision;
  const tolerance = toleranceOf(resolved.session.tolerance, invocation);
  if (!tolerance.ok) return tolerance;
  const origins: Record<string, string> = { ...resolved.origins };
  const given: readonly (readonly [option: OptionName, key: string])[] = [
    ['conditions', 'precision.conditions'],
    ['instrumentCombine', 'precision.combine'],
    ['limitHorizontal', 'tolerance.horizontal_m'],
    ['limitVertical', 'tolerance.vertical_m'],
  ];
  for (const [option, key] of given) if (isGiven(invocation, option)) origins[key] = 'command line';
  for (const axis of ['horizontal', 'vertical']) {
    if (textOption(invocation, `instrument${axis === 'horizontal' ? 'Horizontal' : 'Vertical'}`) === null) continue;
    for (const part of ['constant_m', 'ppm']) origins[`precision.${axis}.${part}`] = 'command line';
  }
  return success({
    ...resolved,
    origins,
    session: { ...resolved.session, precision: precision.value, tolerance: tolerance.value },
  });
}

function toleranceOf(session: ToleranceSettings, invocation: Invocation): Outcome<ToleranceSettings> {
  const horizontalM = numberOption(invocation, 'limitHorizontal') ?? session.horizontalM;
  const verticalM = numberOption(invocation, 'limitVertical') ?? session.verticalM;
  if (horizontalM !== null && !(horizontalM > 0))
    return badOption('--limit-horizontal', String(horizontalM), 'above 0 metres');
  if (verticalM !== null && !(verticalM > 0)) return badOption('--limit-vertical', String(verticalM), 'above 0 metres');
  return success({ horizontalM, verticalM });
}

/** What the figures of an instrument are divided by to become one sigma per axis. */
function sigmasIn(figure: string | null, axis: 'horizontal' | 'vertical'): number {
  switch (figure) {
    case 'drms':
      return axis === 'horizontal' ? Math.SQRT2 : 1;
    case '95':
      return axis === 'horizontal' ? HORIZONTAL_95 : VERTICAL_95;
    default:
      return 1;
  }
}

function precisionOf(session: PrecisionSettings, invocation: Invocation): Outcome<PrecisionSettings> {
  const figure = textOption(invocation, 'instrumentFigure');
  const combine = textOption(invocation, 'instrumentCombine');
  const horizontal = instrumentAxis(invocation, 'horizontal', figure);
  if (!horizontal.ok) return horizontal;
  const vertical = instrumentAxis(invocation, 'vertical', figure);
  if (!vertical.ok) return vertical;
  const own = horizontal.value !== null || vertical.value !== null;
  if (figure !== null && !own) {
    return failure(
      errorProblem('usage-conflict', {
        message:
          '--instrument-figure says what --instrument-horizontal and --instrument-vertical are, and neither is given',
        hint: 'give one of them, or leave it out',
      }),
    );
  }
  if (combine !== null && !own && session.horizontal === null && session.vertical === null) {
    return failure(
      errorProblem('usage-conflict', {
        message: '--instrument-combine needs a constant and ppm to combine',
        hint: 'give --instrument-horizontal or --instrument-vertical',
      }),
    );
  }
  return success({
    ...session,
    conditions: textOption(invocation, 'conditions') ?? session.conditions,
    horizontal: horizontal.value ?? session.horizontal,
    vertical: vertical.value ?? session.vertical,
    combine: combine === 'linear' || combine === 'rss' ? combine : session.combine,
  });
}

function instrumentAxis(
  invocation: Invocation,
  axis: 'horizontal' | 'vertical',
  figure: string | null,
): Outcome<ConstantPlusProportion | null> {
  const text = textOption(invocation, axis === 'horizontal' ? 'instrumentHorizontal' : 'instrumentVertical');
  if (text === null) return success(null);
  const [constant, ppm, ...rest] = text.split(',').map((part) => parseDecimal(part));
  if (constant == null || ppm == null || rest.length > 0 || constant < 0 || ppm < 0)
    return badOption(`--instrument-${axis}`, text, 'MM,PPM, such as 8,1');
  const divisor = sigmasIn(figure, axis);
  return success({ constantM: constant / 1000 / divisor, ppm: ppm / divisor });
}

/** What a plan is asked for beside its session. Problem: usage-invalid. */
export function planChoices({ session }: ResolvedSession, invocation: Invocation): Outcome<PlanChoices> {
  const sigmas = baseSigmas(session, invocation);
  if (!sigmas.ok) return sigmas;
  const occupation = occupationLimits(session, invocation);
  if (!occupation.ok) return occupation;
  const baseErrorM = numberOption(invocation, 'baseError');
  if (baseErrorM !== null && !(baseErrorM >= 0 && baseErrorM <= 100_000))
    return badOption('--base-error', String(baseErrorM), 'from 0 to 100000 metres');
  const acceptsPosition = flagOption(invocation, 'acceptPosition');
  return success({ baseSigmas: sigmas.value, ...occupation.value, baseErrorM, acceptsPosition });
}

/** One sigma of the base coordinate: H or H,V of the option, else the largest of the bases of the session, not stated where one of them states none. */
function baseSigmas(session: Session, invocation: Invocation): Outcome<PlanChoices['baseSigmas']> {
  const text = textOption(invocation, 'baseSigma');
  if (text === null) {
    const { bases } = session;
    return success({
      horizontalM: largestStated(bases.map(({ sigmaHorizontalM }) => sigmaHorizontalM)),
      verticalM: largestStated(bases.map(({ sigmaVerticalM }) => sigmaVerticalM)),
    });
  }
  const [horizontalM, verticalM = horizontalM, ...rest] = text.split(',').map((part) => parseDecimal(part));
  if (horizontalM == null || verticalM == null || rest.length > 0 || horizontalM < 0 || verticalM < 0)
    return badOption('--base-sigma', text, 'H or H,V in metres, such as 0.01,0.02');
  return success({ horizontalM, verticalM });
}

function largestStated(sigmas: readonly (number | null)[]): number | null {
  return sigmas.reduce(
    (largest, sigma) => (largest === null || sigma === null ? null : Math.max(largest, sigma)),
    sigmas[0] ?? null,
  );
}

/** Bounds on occupations, and the epochs of one as planned: never shorter than [acceptance] would accept it. */
function occupationLimits(
  session: Session,
  invocation: Invocation,
): Outcome<Pick<PlanChoices, 'epochCount' | 'limits'>> {
  // No limit asked for: one epoch.
  const accepted = Math.max(session.acceptance.minEpochs ?? 1, Math.ceil((session.acceptance.minDurationS ?? 0) + 1));
  const epochCount = numberOption(invocation, 'occupationEpochs') ?? accepted;
  const maxEpochs = numberOption(invocation, 'maxEpochs') ?? Math.max(1800, epochCount);
  const maxOccupations = numberOption(invocation, 'maxOccupations') ?? 4;
  const separationMin = numberOption(invocation, 'separation');
  if (epochCount < 1 || epochCount > 86_400)
    return badOption('--occupation-epochs', String(epochCount), 'from 1 to 86400');
  if (maxEpochs < epochCount || maxEpochs > 86_400)
    return badOption('--max-epochs', String(maxEpochs), `from ${String(epochCount)} to 86400`);
  if (maxOccupations < 1 || maxOccupations > 50)
    return badOption('--max-occupations', String(maxOccupations), 'from 1 to 50');
  if (separationMin !== null && !(separationMin >= 0))
    return badOption('--separation', String(separationMin), '0 minutes or more');
  return success({
    epochCount,
    limits: {
      separationS: separationMin === null ? null : separationMin * 60,
      minEpochs: epochCount,
      maxEpochs,
      maxOccupations,
    },
  });
}
