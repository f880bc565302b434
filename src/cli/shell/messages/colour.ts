import type { Context } from '../context.js';

/** How words are coloured: by the stream that they go to, or not at all. */
export interface Colour {
  readonly yellow: (text: string) => string;
}

/** Select Graphic Rendition: the foreground yellow, and as it was. Source: ECMA-48, 8.3.117. */
const [YELLOW, AS_BEFORE] = ['\u001B[33m', '\u001B[39m'];

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
  return { yellow: (text) => (isOn ? `${YELLOW}${text}${AS_BEFORE}` : text) };
}
