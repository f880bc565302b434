import { createGeodesic } from '../../core/ellipsoid/geodesic.js';
import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import type { PredictionSettings } from '../../core/planning/prediction.js';
import type { RemedyLimits } from '../../core/planning/remedy.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { RoverSettings } from '../../records/session.js';
import type { PlanSetup } from '../../tasks/plan/targets/plan-target.js';
import { loadGeoid } from '../grids/load-geoid.js';
import type { SessionInPlace } from '../sessions/session-in-place.js';
import { loadPlanSystems } from './load-plan-systems.js';
import type { PlanSystems } from './load-plan-systems.js';

/** What a plan is asked for beside its session. */
export interface PlanChoices {
  /** One sigma of the base coordinate, metres; null: not stated. */
  readonly baseSigmas: { readonly horizontalM: number | null; readonly verticalM: number | null };
  /** Epochs of an occupation as planned, and how long and how often one may be occupied. */
  readonly epochCount: number;
  readonly limits: RemedyLimits;
  /** An error of the base coordinate to be looked at, metres; null: not asked. */
  readonly baseErrorM: number | null;
  readonly acceptsPosition: boolean;
}

/** Systems, geoid and everything of a plan but the candidates. */
export interface LoadedPlan extends PlanSystems {
  readonly acceptsPosition: boolean;
  readonly geoid: GeoidModel | null;
  readonly setup: Omit<PlanSetup, 'siting'>;
}

/**
 * Loads what a plan needs. Given: the session; what is asked for beside it; whether all files of places are GeoJSON.
 * Problems: those of `loadPlanSystems` and of the geoid. Warnings: config-unstated for what the prediction leaves out.
 *
 * @example
 * const choices = {
 *   baseSigmas: { horizontalM: 0.01, verticalM: 0.02 },
 *   limits: { separationS: null, minEpochs: 1, maxEpochs: 60, maxOccupations: 2 },
 *   ...{ epochCount: 1, baseErrorM: null, acceptsPosition: false },
 * };
 * const session = await readSessionFile('session.toml');
 * const plan = await loadPlan(session.value, choices);
 * plan.value.setup.prediction.geoidSigmaM; // 0.02
 */
export async function loadPlan(
  inPlace: SessionInPlace,
  choices: PlanChoices,
  onlyGeojson: boolean = false,
): Promise<Outcome<LoadedPlan>> {
  const { session } = inPlace;
  const { baseSigmas, epochCount, limits, baseErrorM, acceptsPosition } = choices;
  const systems = loadPlanSystems(session, onlyGeojson);
  if (!systems.ok) return systems;
  const geoid = await planGeoid(inPlace, systems.value);
  if (!geoid.ok) return geoid;
  const { model, sigmaM: geoidSigmaM } = geoid.value;
  return success(
    {
      ...systems.value,
      acceptsPosition,
      geoid: model,
      setup: {
        geodesic: createGeodesic(systems.value.fixesSystem.ellipsoid),
        conditions: session.precision.conditions,
        limits,
        baseErrorM,
        prediction: {
          ...poleOf(session.rover),
          precision: session.precision,
          baseSigmaHorizontalM: baseSigmas.horizontalM,
          baseSigmaVerticalM: baseSigmas.verticalM,
          geoidSigmaM,
          epochCount,
        },
      },
    },
    [...systems.problems, ...geoid.problems, ...unstatedOf(baseSigmas, session.rover)],
  );
}

interface PlanGeoid {
  readonly model: GeoidModel | null;
  readonly sigmaM: number | null;
}

async function planGeoid(
  { session: { height }, folder, reading }: SessionInPlace,
  { fixesSystem }: PlanSystems,
): Promise<Outcome<PlanGeoid>> {
  const { geoid: model, interpolation, sigmaM, geoidFrame: statedFrame } = height;
  if (model === null) return success({ model: null, sigmaM: null });
  const loaded = await loadGeoid({ model, interpolation, sigmaM, statedFrame }, folder, fixesSystem, reading);
  if (!loaded.ok) return loaded;
  const { geoid, sigmaM: loadedSigmaM } = loaded.value;
  return success({ model: geoid, sigmaM: loadedSigmaM }, [
    ...loaded.problems,
    ...(loadedSigmaM === null
      ? [unstated('the geoid height has no stated sigma, so vertical figures leave it out', 'set height.sigma_m')]
      : []),
  ]);
}

/** The pole that points are planned with, plumb; without a stated length its lean is left out. */
function poleOf(rover: RoverSettings): Pick<PredictionSettings, 'pole' | 'poleSigmas'> {
  const { poleLengthM, poleSigmaM, referencePoint, phaseCentreOffsetM } = rover;
  // An offset that is needed and missing was refused when the session was read.
  const offsetM = referencePoint === 'arp' ? 0 : (phaseCentreOffsetM ?? 0);
  return {
    pole: {
      lengthM: poleLengthM === null ? 0 : poleLengthM + offsetM,
      tiltDeg: null,
      tiltAzimuthDeg: null,
      convention: null,
    },
    poleSigmas: { ...rover, poleSigmaM: poleLengthM === null ? 0 : poleSigmaM },
  };
}

function unstatedOf({ horizontalM, verticalM }: PlanChoices['baseSigmas'], rover: RoverSettings): readonly Problem[] {
  return [
    ...(horizontalM === null || verticalM === null
      ? [
          unstated(
            'the base coordinate has no stated sigma, so figures are relative to the base',
            "give --base-sigma H,V, or sigma_horizontal_m and sigma_vertical_m of the session's bases",
          ),
        ]
      : []),
    ...(rover.poleLengthM === null
      ? [
          unstated(
            'no pole length is stated, so its lean is left out',
            'give --pole-length, or rover.pole_length_m in a session',
          ),
        ]
      : []),
  ];
}

function unstated(message: string, hint: string): Problem {
  return warningProblem('config-unstated', { message, hint });
}
