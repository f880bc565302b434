import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { GeoidInterpolation } from '../../records/session.js';
import { textOption } from '../shell/command-spec.js';
import type { Invocation } from '../shell/command-spec.js';

/** What the command line says of the geoid; null where it says nothing. */
export interface GeoidOptions {
  /** `egm96` or a path, as typed. */
  readonly model: string | null;
  readonly interpolation: GeoidInterpolation | null;
  readonly statedFrame: string | null;
}

/**
 * Reads --geoid, --geoid-interpolation and --geoid-frame: one meaning in every command.
 * `sessionModel`: the geoid of a session, which the two others may belong to. Problems: usage-conflict without any geoid.
 */
export function geoidOptions(invocation: Invocation, sessionModel: string | null = null): Outcome<GeoidOptions> {
  const model = textOption(invocation, 'geoid');
  const interpolation = textOption(invocation, 'geoidInterpolation');
  const statedFrame = textOption(invocation, 'geoidFrame');
  if (model === null && sessionModel === null && (interpolation !== null || statedFrame !== null)) {
    return failure(
      errorProblem('usage-conflict', {
        message: `${interpolation === null ? '--geoid-frame' : '--geoid-interpolation'} needs --geoid`,
        hint: 'it says how the geoid grid is to be read',
      }),
    );
  }
  return success({ model, interpolation, statedFrame });
}
