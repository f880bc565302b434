import { describe, expect, it } from 'vitest';
import {
  flagOption,
  isGiven,
  listOption,
  numberOption,
  textOption,
  textsGiven,
} from '../../../src/cli/shell/command-spec.js';
import type { Invocation } from '../../../src/cli/shell/command-spec.js';
import type { HeightKind } from '../../../src/records/points/point.js';

const invocation: Invocation = {
  args: [],
  options: {
    toHeight: 'orthometric',
    groundTolerance: 0.005,
    inverse: true,
    extrapolate: false,
    columns: ['a=b', 'c=d'],
  },
};

describe('options read by their names', () => {
  it('give what was typed, and nothing for what was not', () => {
    expect(textOption(invocation, 'toHeight')).toBe('orthometric');
    expect(textOption(invocation, 'fromHeight')).toBeNull();
    expect(numberOption(invocation, 'groundTolerance')).toBe(0.005);
    expect(numberOption(invocation, 'epoch')).toBeNull();
    expect(flagOption(invocation, 'inverse')).toBe(true);
    expect(flagOption(invocation, 'force')).toBe(false);
    expect(listOption(invocation, 'columns')).toEqual(['a=b', 'c=d']);
    expect(listOption(invocation, 'area')).toEqual([]);
    expect(textsGiven(invocation, ['fromHeight', 'toHeight'])).toEqual(['orthometric']);
  });

  it('count as given where they hold something, a flag where it is set', () => {
    expect(isGiven(invocation, 'inverse')).toBe(true);
    expect(isGiven(invocation, 'extrapolate')).toBe(false);
    expect(isGiven(invocation, 'geoid')).toBe(false);
  });

  // Compiled with the rest: a line that no longer fails to compile is an error itself.
  it('do not compile where a name is misspelt, of another kind or a word is none of the choices', () => {
    // @ts-expect-error -- the option is toHeight
    textOption(invocation, 'toHeigth');
    // @ts-expect-error -- groundTolerance holds a number
    textOption(invocation, 'groundTolerance');
    // @ts-expect-error -- toHeight holds a text
    numberOption(invocation, 'toHeight');
    // @ts-expect-error -- the option is inverse
    flagOption(invocation, 'invers');
    // @ts-expect-error -- epoch holds no list
    listOption(invocation, 'epoch');
    // @ts-expect-error -- no command has it
    isGiven(invocation, 'colour');
    // @ts-expect-error -- an invocation holds options that some command has
    const misspelt: Invocation = { args: [], options: { poleLenght: 2 } };
    expect(misspelt.args).toEqual([]);
    const kind: HeightKind | null = textOption(invocation, 'toHeight');
    // @ts-expect-error -- a height is not geodetic
    const isGeodetic = kind === 'geodetic';
    expect(isGeodetic).toBe(false);
  });
});
