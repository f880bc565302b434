import { styleText } from 'node:util';
import type { Context } from '../context.js';

/** How words are coloured: by the stream that they go to, or not at all. */
export interface Colour {
  readonly yellow: (text: string) => string;
}

/**
 * Colours for standard error. Order of say: `--no-color`, a non-empty NO_COLOR, FORCE_COLOR,
 * TERM=dumb, then whether the stream is a terminal. Colour marks severity words only; no meaning hangs on it.
 */
export function colourFor(context: Context, allowed: boolean): Colour {
  const { env, stderr } = context;
  // A variable that is not set says what an empty one says: nothing.
  const off = !allowed || (env['NO_COLOR'] ?? '') !== '';
  // As above.
  const forced = (env['FORCE_COLOR'] ?? '') !== '' && env['FORCE_COLOR'] !== '0';
  const terminal = stderr.isTTY === true && env['TERM'] !== 'dumb';
  const isOn = !off && (forced || terminal);
  // Whether the stream takes colour is settled here: the engine would ask standard output.
  return { yellow: (text) => (isOn ? styleText('yellow', text, { validateStream: false }) : text) };
}
