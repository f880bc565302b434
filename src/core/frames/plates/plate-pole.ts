import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { nearestWord } from '../../numeric/text/nearest-word.js';
import { DEFAULT_PLATE_MODEL, PLATE_MODELS, PLATE_MODEL_KEYS } from './plate-models.js';
import type { OriginRate, PlateModelKey } from './plate-models.js';

/** Rotation of a rigid plate in a reference frame, milliseconds of arc per year about X, Y and Z. */
export interface PlatePole {
  /** Four-letter code of the model. */
  readonly code: string;
  readonly name: string;
  readonly model: string;
  /** Frame the rotation is expressed in. */
  readonly frame: string;
  readonly omegaXMasPerYear: number;
  readonly omegaYMasPerYear: number;
  readonly omegaZMasPerYear: number;
  /** What the model adds to horizontal velocities beside the rotation; null: nothing. */
  readonly originRate: OriginRate | null;
  /** How well the model represents a velocity on the stable inside of a plate, metres per year. */
  readonly sigmaMPerYear: number;
}

/** Names of the plates of any model, in the order of the alphabet. */
export const PLATE_NAMES: readonly string[] = [
  ...new Set(PLATE_MODEL_KEYS.flatMap((key) => PLATE_MODELS[key].poles.map((pole) => pole.name))),
].sort();

/**
 * The pole of a plate by its name or four-letter code; case, hyphens and spaces do not matter.
 *
 * Given: name such as `Nubian` or `NUBI`; the model, that of ITRF2014 where none is named. Returned: its pole.
 * Errors: plate-unknown, with the model that has the plate, or the nearest name.
 * Reference: ITRF2014-PMM, ITRF2020-PMM.
 *
 * @example
 * platePole('NUBI').value.name; // 'Nubian'
 * platePole('Nubian', 'itrf2020').value.omegaXMasPerYear; // 0.09
 * platePole('Nubia').problems[0].code; // 'plate-unknown'
 */
export function platePole(name: string, model: PlateModelKey = DEFAULT_PLATE_MODEL): Outcome<PlatePole> {
  const { poles, name: modelName } = PLATE_MODELS[model];
  const found = poleIn(poles, name);
  if (found !== null) return success(found);
  const names = poles.map((pole) => pole.name);
  const elsewhere = PLATE_MODEL_KEYS.find((key) => poleIn(PLATE_MODELS[key].poles, name) !== null);
  const near = nearestWord(name, [...names, ...poles.map((pole) => pole.code)]);
  const hint =
    elsewhere !== undefined
      ? `the model ${elsewhere} has it: --plate-model ${elsewhere}`
      : near === null
        ? null
        : `did you mean ${near}?`;
  return failure(
    errorProblem('plate-unknown', {
      message: elsewhere === undefined ? `no plate is called ${name}` : `the ${modelName} has no plate ${name}`,
      received: name,
      expected: names.join(', '),
      ...(hint === null ? {} : { hint }),
    }),
  );
}

function poleIn(poles: readonly PlatePole[], name: string): PlatePole | null {
  const wanted = plain(name);
  return poles.find((pole) => plain(pole.code) === wanted || plain(pole.name) === wanted) ?? null;
}

function plain(text: string): string {
  return text.toLowerCase().replace(/[\s_-]/g, '');
}
