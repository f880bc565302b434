import { failure, failureOf, success, type Outcome } from '../../../records/outcome.js';
import { errorProblem, type Problem } from '../../../records/problem.js';
import { parseDecimal } from '../../numeric/text/decimal-text.js';
import { ownEntry } from '../../numeric/own-entry.js';
import { UNITS_BY_KEYWORD, unitOfSize, type GridUnit } from '../../grid/systems/grid-units.js';
import { nearestName } from './nearest-name.js';
import { ELLIPSOID_PARAMETERS, projEllipsoid } from './proj-ellipsoid.js';
import type { ProjAxes, ProjParameters } from './projection-parameters.js';
import { PROJECTION_METHODS, type ProjectionMethod, type ProjFlag, type ProjNumber } from '../projection-methods.js';
import { projContradictions } from './proj-contradictions.js';
import { definitionProblem, projTokens, type ProjTokens } from './proj-tokens.js';

const COMMON: readonly string[] = [
  'proj',
  ...ELLIPSOID_PARAMETERS,
  'towgs84',
  'nadgrids',
  'units',
  'to_meter',
  'axis',
  'pm',
  'no_defs',
  'type',
  'wktext',
];
const LONE: readonly string[] = ['no_defs', 'wktext', 'south', 'no_uoff', 'hyperbolic'];
const FRAMES: Readonly<Record<string, ProjectionMethod>> = {
  longlat: { name: 'geographic', conformal: false, required: [], optional: [], flags: [] },
  geocent: { name: 'geocentric', conformal: false, required: [], optional: [], flags: [] },
};
/** A plane of projection lies on the ground of some town. */
const HIGHEST_PLANE_M = 10000;
const AXES: readonly string[] = ['enu', 'neu', 'wsu', 'swu', 'wnu', 'nwu'];

/**
 * A PROJ definition string, strictly. Every parameter must be one the projection uses; the
 * projection library itself ignores those it does not know, so a slip would pass for a coordinate.
 *
 * Given: text such as `+proj=tmerc +lat_0=0 +lon_0=29 +ellps=WGS84 +axis=wsu`.
 * Returned: the parameters. `+towgs84` and `+nadgrids` are read and nothing is done with them.
 * Problems: system-definition-invalid for a parameter that is unknown, repeated, missing or not a
 * number in its range; system-unsupported for a projection, unit or axes that cannot be computed.
 * Reference: PROJ-DOC, cartographic projection and each projection's page.
 *
 * @example
 * parseProjString('+proj=utm +zone=34 +ellps=WGS84').ok; // true
 * parseProjString('+proj=utn +zone=34').ok; // false
 */
export function parseProjString(text: string): Outcome<ProjParameters> {
  const tokenised = projTokens(text);
  if (!tokenised.ok) return tokenised;
  const tokens = tokenised.value;
  const projection = tokens.get('proj');
  if (typeof projection !== 'string') return failure(definitionProblem('+proj is missing', text));
  const method = ownEntry(PROJECTION_METHODS, projection) ?? ownEntry(FRAMES, projection);
  if (method === undefined) {
    const near = nearestName(projection, Object.keys(PROJECTION_METHODS));
    return failure(
      unsupported(
        `the projection ${projection} is not computed here`,
        text,
        near === null ? undefined : `did you mean ${near}?`,
      ),
    );
  }
  const problems: Problem[] = [...nameProblems(tokens, method, projection, text)];
  const ellipsoid = projEllipsoid(tokens);
  if (typeof ellipsoid === 'string') problems.push(definitionProblem(ellipsoid, text));
  const numbers = readNumbers(tokens, method, problems, text);
  for (const words of projContradictions(projection, numbers))
    problems.push(definitionProblem(`${words}: the definition contradicts itself`, text));
  const unit = readUnit(tokens);
  if (typeof unit === 'string') problems.push(unsupported(unit, text));
  const axes = tokens.get('axis') ?? 'enu';
  if (!AXES.includes(axes))
    problems.push(unsupported(`the axes ${axes} are not handled, only ${AXES.join(', ')}`, text));
  const datumShift = readShift(tokens.get('towgs84'));
  if (datumShift === undefined) problems.push(definitionProblem('+towgs84 must be 3 or 7 numbers with commas', text));
  if (problems.length > 0 || typeof ellipsoid === 'string' || typeof unit === 'string' || datumShift === undefined) {
    return failureOf(problems);
  }
  const meridian = tokens.get('pm') ?? null;
  return success({
    projection,
    ellipsoid,
    numbers,
    flags: method.flags.filter((flag: ProjFlag) => tokens.has(flag)),
    axes: axes as ProjAxes,
    unit,
    primeMeridian: meridian === null || /^(?:greenwich|0+(?:\.0*)?)$/iu.test(meridian) ? null : meridian,
    datumShift,
  });
}

function unsupported(message: string, text: string, hint?: string): Problem {
  return errorProblem('system-unsupported', { message, received: text, ...(hint === undefined ? {} : { hint }) });
}

function nameProblems(
  tokens: ProjTokens,
  method: ProjectionMethod,
  projection: string,
  text: string,
): readonly Problem[] {
  const allowed = [...COMMON, ...method.required, ...method.optional, ...method.flags];
  const problems: Problem[] = [];
  for (const [name, value] of tokens) {
    if (!allowed.includes(name)) {
      const near = nearestName(name, allowed);
      const hint = near === null ? undefined : `did you mean +${near}?`;
      problems.push(definitionProblem(`+${name} is not a parameter of ${projection}`, text, hint));
    } else if (LONE.includes(name) !== (value === null)) {
      problems.push(definitionProblem(`+${name} ${value === null ? 'needs a value' : 'takes no value'}`, text));
    }
  }
  for (const name of method.required) {
    if (!tokens.has(name)) problems.push(definitionProblem(`+${name} is missing; ${projection} needs it`, text));
  }
  return problems;
}

function readNumbers(
  tokens: ProjTokens,
  method: ProjectionMethod,
  problems: Problem[],
  text: string,
): Partial<Record<ProjNumber, number>> {
  const numbers: Partial<Record<ProjNumber, number>> = {};
  for (const name of [...method.required, ...method.optional]) {
    const value = tokens.get(name);
    if (typeof value !== 'string') continue;
    const number = parseDecimal(value);
    if (number === null || !isInRange(name, number)) {
      problems.push(definitionProblem(`+${name}=${value} is not ${expectedOf(name)}`, text));
    } else numbers[name] = number;
  }
  return numbers;
}

function isInRange(name: ProjNumber, value: number): boolean {
  if (name.startsWith('lat')) return value >= -90 && value <= 90;
  if (name === 'zone') return Number.isInteger(value) && value >= 1 && value <= 60;
  if (name === 'k_0') return value > 0.1 && value < 10;
  if (name === 'x_0' || name === 'y_0') return Math.abs(value) <= 1e9;
  if (name === 'h_0') return Math.abs(value) <= HIGHEST_PLANE_M;
  return value >= -360 && value <= 360;
}

function expectedOf(name: ProjNumber): string {
  if (name.startsWith('lat')) return 'a latitude in degrees, -90 to 90';
  if (name === 'zone') return 'a whole number, 1 to 60';
  if (name === 'k_0') return 'a scale factor between 0.1 and 10';
  if (name === 'x_0' || name === 'y_0') return 'a length in metres';
  if (name === 'h_0') return `a height in metres, up to ${String(HIGHEST_PLANE_M)}`;
  return 'an angle in degrees, -360 to 360';
}

function readUnit(tokens: ProjTokens): GridUnit | string {
  const keyword = tokens.get('units');
  const size = tokens.get('to_meter');
  if (typeof keyword === 'string' && typeof size === 'string') return '+units and +to_meter exclude each other';
  if (typeof size === 'string') {
    const metres = parseDecimal(size);
    return (metres === null ? null : unitOfSize(metres)) ?? `no unit is known of ${size} metres`;
  }
  const name = keyword ?? 'm';
  return (
    ownEntry(UNITS_BY_KEYWORD, name) ??
    `the unit ${name} is not known here: ${Object.keys(UNITS_BY_KEYWORD).join(', ')}`
  );
}

/** Null when there is none, undefined when it cannot be read. */
function readShift(text: string | null | undefined): readonly number[] | null | undefined {
  if (typeof text !== 'string') return null;
  const values = text.split(',').map((part) => parseDecimal(part));
  if (values.length !== 3 && values.length !== 7) return undefined;
  return values.every((value) => value !== null) ? values : undefined;
}
