import { createGeodesic } from '../../../../core/ellipsoid/geodesic.js';
import type { GeoidModel } from '../../../../core/geoid/geoid-height.js';
import { pushAll } from '../../../../core/numeric/push-all.js';
import type { BaseCandidate } from '../../../../core/planning/plan-point.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem, warningProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import type { PlanSetup, PlanSiting } from '../../../../tasks/plan/plan-target.js';
import { flagOption, isGiven, numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation, OptionName, TextOption } from '../../../shell/command-spec.js';
import { loadGeoid } from '../../../../files/load-geoid.js';
import type { ResolvedSession } from '../../../inputs/session-settings.js';
import { parseBasePlace } from './plan-place.js';
import { badOption, baseSigmas, occupationLimits } from './plan-settings.js';
import { loadPlanSystems } from './plan-systems.js';
import type { PlanSystems } from './plan-systems.js';

/** Systems, geoid and everything of a plan but the candidates. */
export interface LoadedPlan extends PlanSystems {
  readonly acceptsPosition: boolean;
  readonly geoid: GeoidModel | null;
  readonly setup: Omit<PlanSetup, 'siting'>;
}

/** Loads what a plan needs. Problems: those of each part. Warnings say what the prediction leaves out. */
export async function loadPlan(
  resolved: ResolvedSession,
  invocation: Invocation,
  onlyGeojson: boolean,
): Promise<Outcome<LoadedPlan>> {
  const { session } = resolved;
  const systems = loadPlanSystems(resolved, onlyGeojson);
  if (!systems.ok) return systems;
  const warnings: Problem[] = [...systems.problems];
  const sigmas = baseSigmas(resolved, invocation);
  if (!sigmas.ok) return sigmas;
  const occupation = occupationLimits(resolved, invocation);
  if (!occupation.ok) return occupation;
  const baseErrorM = numberOption(invocation, 'baseError');
  if (baseErrorM !== null && !(baseErrorM >= 0 && baseErrorM <= 100_000))
    return badOption('--base-error', String(baseErrorM), 'from 0 to 100000 metres');
  let geoid: GeoidModel | null = null;
  let geoidSigmaM: number | null = null;
  if (session.height.geoid !== null) {
    const { geoid: model, interpolation, sigmaM, geoidFrame } = session.height;
    const loaded = await loadGeoid(
      { model, interpolation, sigmaM, statedFrame: geoidFrame },
      resolved.folder,
      systems.value.fixesSystem,
      resolved.reading,
    );
    if (!loaded.ok) return loaded;
    pushAll(warnings, loaded.problems);
    ({ geoid, sigmaM: geoidSigmaM } = loaded.value);
    if (geoidSigmaM === null)
      warnings.push(
        unstated('the geoid height has no stated sigma, so vertical figures leave it out', 'set height.sigma_m'),
      );
  }
  if (sigmas.value.horizontalM === null || sigmas.value.verticalM === null)
    warnings.push(
      unstated(
        'the base coordinate has no stated sigma, so figures are relative to the base',
        "give --base-sigma H,V, or sigma_horizontal_m and sigma_vertical_m of the session's bases",
      ),
    );
  const { rover } = session;
  if (rover.poleLengthM === null)
    warnings.push(
      unstated(
        'no pole length is stated, so its lean is left out',
        'give --pole-length, or rover.pole_length_m in a session',
      ),
    );
  const { epochCount, limits } = occupation.value;
  return success(
    {
      ...systems.value,
      acceptsPosition: flagOption(invocation, 'acceptPosition'),
      geoid,
      setup: {
        geodesic: createGeodesic(systems.value.fixesSystem.ellipsoid),
        conditions: session.precision.conditions,
        limits,
        baseErrorM,
        prediction: {
          precision: session.precision,
          pole: {
            lengthM:
              rover.poleLengthM === null
                ? 0
                : // An offset that is needed and missing was refused when the session was read.
                  rover.poleLengthM + (rover.referencePoint === 'arp' ? 0 : (rover.phaseCentreOffsetM ?? 0)),
            tiltDeg: null,
            tiltAzimuthDeg: null,
            convention: null,
          },
          poleSigmas: { ...rover, poleSigmaM: rover.poleLengthM === null ? 0 : rover.poleSigmaM },
          baseSigmaHorizontalM: sigmas.value.horizontalM,
          baseSigmaVerticalM: sigmas.value.verticalM,
          geoidSigmaM,
          epochCount,
        },
      },
    },
    warnings,
  );
}

function unstated(message: string, hint: string): Problem {
  return warningProblem('config-unstated', { message, hint });
}

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

/** Options that say nothing without another one, by their camel-case names. */
const DEPENDENT: readonly (readonly [needed: TextOption, dependents: readonly OptionName[]])[] = [
  ['timetable', ['speed', 'detour', 'setupMinutes', 'overheadMinutes', 'control']],
  ['stream', ['satellites', 'rate', 'rovers']],
];

/** Problem: usage-conflict for an option that would be ignored; usage-invalid for hours that cannot be. */
export function checkPlanOptions(invocation: Invocation): Outcome<null> {
  const hours = numberOption(invocation, 'hours');
  if (hours !== null && !(hours > 0 && hours <= 8784))
    return badOption('--hours', String(hours), 'above 0 and at most 8784');
  for (const [needed, dependents] of DEPENDENT) {
    if (textOption(invocation, needed) !== null) continue;
    const idle = dependents.find((name) => isGiven(invocation, name));
    if (idle !== undefined)
      return failure(
        errorProblem('usage-conflict', {
          message: `${flagOf(idle)} needs --${needed}`,
          hint: `give --${needed}, or leave it out`,
        }),
      );
  }
  return success(null);
}

function flagOf(name: string): string {
  return `--${name.replace(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`)}`;
}
