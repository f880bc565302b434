import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { nearestWord } from '../../numeric/text/nearest-word.js';

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
}

function itrf2014(code: string, name: string, x: number, y: number, z: number): PlatePole {
  return {
    code,
    name,
    model: 'ITRF2014 plate motion model',
    frame: 'ITRF2014',
    omegaXMasPerYear: x,
    omegaYMasPerYear: y,
    omegaZMasPerYear: z,
  };
}

/**
 * Rotation poles of the ITRF2014 plate motion model.
 *
 * Positive rotations are right-handed about the axis, as in the position vector convention. The
 * model describes the stable inside of a plate to about 0.3 mm/yr; near plate edges, in mountains,
 * over mines and wells and after earthquakes the ground moves otherwise.
 * Reference: ITRF2014-PMM, table 1.
 */
export const PLATE_POLES: readonly PlatePole[] = [
  itrf2014('ANTA', 'Antarctic', -0.248, -0.324, 0.675),
  itrf2014('ARAB', 'Arabian', 1.154, -0.136, 1.444),
  itrf2014('AUST', 'Australian', 1.51, 1.182, 1.215),
  itrf2014('EURA', 'Eurasian', -0.085, -0.531, 0.77),
  itrf2014('INDI', 'Indian', 1.154, -0.005, 1.454),
  itrf2014('NAZC', 'Nazca', -0.333, -1.544, 1.623),
  itrf2014('NOAM', 'North American', 0.024, -0.694, -0.063),
  itrf2014('NUBI', 'Nubian', 0.099, -0.614, 0.733),
  itrf2014('PCFC', 'Pacific', -0.409, 1.047, -2.169),
  itrf2014('SOAM', 'South American', -0.27, -0.301, -0.14),
  itrf2014('SOMA', 'Somali', -0.121, -0.794, 0.884),
];

/** Names of the plates, as accepted by `platePole`, in the order of the table. */
export const PLATE_NAMES: readonly string[] = PLATE_POLES.map((pole) => pole.name);

/**
 * The pole of a plate by its name or four-letter code; case, hyphens and spaces do not matter.
 *
 * Given: name such as `Nubian` or `NUBI`. Returned: its pole. Errors: plate-unknown, with the
 * nearest name. Reference: ITRF2014-PMM.
 *
 * @example
 * platePole('NUBI').value.name; // 'Nubian'
 * platePole('Nubia').problems[0].code; // 'plate-unknown'
 */
export function platePole(name: string): Outcome<PlatePole> {
  const wanted = plain(name);
  for (const pole of PLATE_POLES) {
    if (plain(pole.code) === wanted || plain(pole.name) === wanted) return success(pole);
  }
  const near = nearestWord(name, [...PLATE_NAMES, ...PLATE_POLES.map((pole) => pole.code)]);
  return failure(
    errorProblem('plate-unknown', {
      message: `no plate is called ${name}`,
      received: name,
      expected: PLATE_NAMES.join(', '),
      ...(near === null ? {} : { hint: `did you mean ${near}?` }),
    }),
  );
}

function plain(text: string): string {
  return text.toLowerCase().replace(/[\s_-]/g, '');
}
