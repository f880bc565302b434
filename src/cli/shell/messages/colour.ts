import { Chalk } from 'chalk';
import type { ChalkInstance } from 'chalk';
import type { Context } from '../context.js';

/**
 * Styles for standard error. Order of say: `--no-color`, a non-empty NO_COLOR, FORCE_COLOR,
 * TERM=dumb, then whether the stream is a terminal (house hazard: chalk's own rule ignores NO_COLOR
 * on a terminal). Colour marks severity words only; no meaning hangs on it.
 */
export function colourFor(context: Context, allowed: boolean): ChalkInstance {
  const { env, stderr } = context;
  // A variable that is not set says what an empty one says: nothing.
  const off = !allowed || (env['NO_COLOR'] ?? '') !== '';
  // As above.
  const forced = (env['FORCE_COLOR'] ?? '') !== '' && env['FORCE_COLOR'] !== '0';
  const terminal = stderr.isTTY === true && env['TERM'] !== 'dumb';
  return new Chalk({ level: !off && (forced || terminal) ? 1 : 0 });
}
