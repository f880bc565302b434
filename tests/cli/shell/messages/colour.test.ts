import { describe, expect, it } from 'vitest';
import type { Context } from '../../../../src/cli/shell/context.js';
import { colourFor } from '../../../../src/cli/shell/messages/colour.js';

const word = (env: Record<string, string>, isTerminal: boolean, isAllowed = true): string =>
  colourFor({ env, stderr: { isTTY: isTerminal } } as unknown as Context, isAllowed).yellow('warning');

// ECMA-48, Select Graphic Rendition: 33 is yellow display, 39 the default display colour.
const YELLOW = '\u001B[33mwarning\u001B[39m';

describe('the colour of severity words', () => {
  it.each([
    ['on a terminal', {}, true, YELLOW],
    ['in a pipe', {}, false, 'warning'],
    ['in a pipe, where it is asked for', { FORCE_COLOR: '1' }, false, YELLOW],
    ['where it is asked not to be', { FORCE_COLOR: '0' }, false, 'warning'],
    ['on a terminal without colours', { TERM: 'dumb' }, true, 'warning'],
    ['on a terminal without colours, where it is asked for', { TERM: 'dumb', FORCE_COLOR: '1' }, true, YELLOW],
    ['where NO_COLOR is set, whatever else is', { NO_COLOR: '1', FORCE_COLOR: '1' }, true, 'warning'],
    ['where NO_COLOR is empty', { NO_COLOR: '' }, true, YELLOW],
  ])('%s', (_where, env: Record<string, string>, isTerminal, expected) => {
    expect(word(env, isTerminal)).toBe(expected);
  });

  it('is off with --no-color', () => {
    expect(word({ FORCE_COLOR: '1' }, true, false)).toBe('warning');
  });
});
