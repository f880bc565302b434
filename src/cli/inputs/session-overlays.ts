import { resolve } from 'node:path';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Session } from '../../records/session.js';
import { numberOption, textOption } from '../shell/command-spec.js';
import type { Invocation } from '../shell/command-spec.js';
import { geoidOptions } from './geoid-options.js';

/** A session with some options laid over it, and the keys of the settings that they changed. */
interface Laid {
  readonly session: Session;
  readonly keys: readonly string[];
}

/** Lays one kind of options over a session; `cwd` is where their paths start from. */
type Overlay = (session: Session, invocation: Invocation, cwd: string) => Outcome<Laid>;

function laySystem(session: Session, invocation: Invocation): Outcome<Laid> {
  const grid = textOption(invocation, 'system');
  const fixes = textOption(invocation, 'fixesSystem');
  if (grid === null && fixes === null) return success({ session, keys: [] });
  const system = {
    // No grid is named yet; who needs one asks for it.
    grid: grid ?? session.system?.grid ?? '',
    fixes: fixes ?? session.system?.fixes ?? null,
    epochYear: session.system?.epochYear ?? null,
    shift: session.system?.shift ?? null,
  };
  const keys = [...(grid === null ? [] : ['system.grid']), ...(fixes === null ? [] : ['system.fixes'])];
  return success({ session: { ...session, system }, keys });
}

function layGeoid(session: Session, invocation: Invocation, cwd: string): Outcome<Laid> {
  const options = geoidOptions(invocation, session.height.geoid);
  if (!options.ok) return options;
  const { model, interpolation, statedFrame } = options.value;
  const height = {
    ...session.height,
    ...(model === null ? {} : { geoid: model === 'egm96' ? model : resolve(cwd, model) }),
    ...(interpolation === null ? {} : { interpolation }),
    ...(statedFrame === null ? {} : { geoidFrame: statedFrame }),
  };
  const keys = [
    ...(model === null ? [] : ['height.geoid']),
    ...(interpolation === null ? [] : ['height.interpolation']),
    ...(statedFrame === null ? [] : ['height.geoid_frame']),
  ];
  return success({ session: keys.length === 0 ? session : { ...session, height }, keys });
}

/** A length of the rover, whose option takes metres from `least` to `most`. */
function layLength(
  option: 'poleLength' | 'phaseCentreOffset',
  word: string,
  [least, most]: readonly [number, number],
  member: 'poleLengthM' | 'phaseCentreOffsetM',
  key: string,
): Overlay {
  return (session, invocation) => {
    const lengthM = numberOption(invocation, option);
    if (lengthM === null) return success({ session, keys: [] });
    if (!(lengthM >= least && lengthM <= most)) {
      return failure(
        errorProblem('usage-invalid', {
          message: `${word} ${lengthM} is outside ${least}..${most} metres`,
          received: String(lengthM),
        }),
      );
    }
    return success({ session: { ...session, rover: { ...session.rover, [member]: lengthM } }, keys: [key] });
  };
}

function layReferencePoint(session: Session, invocation: Invocation): Outcome<Laid> {
  const referencePoint = textOption(invocation, 'referencePoint');
  return success(
    referencePoint === null
      ? { session, keys: [] }
      : { session: { ...session, rover: { ...session.rover, referencePoint } }, keys: ['rover.reference_point'] },
  );
}

/** What the command line may change of a session, in the order in which it is laid over it and refused. */
export const OVERLAYS: readonly Overlay[] = [
  laySystem,
  layGeoid,
  layLength('poleLength', '--pole-length', [0, 100], 'poleLengthM', 'rover.pole_length_m'),
  layLength('phaseCentreOffset', '--phase-centre-offset', [-1, 1], 'phaseCentreOffsetM', 'rover.phase_centre_offset_m'),
  layReferencePoint,
];
