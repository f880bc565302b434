import { describe, expect, it } from 'vitest';
import { platePole } from '../../../../src/core/frames/plates/plate-pole.js';
import { valueOf } from '../../../support/shift-of-row.js';

describe('a plate by its name', () => {
  it('is found by name or code, whatever the case, hyphens and spaces', () => {
    for (const name of ['Nubian', 'NUBI', 'nubi', ' Nu-bian ']) expect(valueOf(platePole(name)).code).toBe('NUBI');
    expect(valueOf(platePole('north_american')).code).toBe('NOAM');
  });

  it('is refused with the nearest name where there is one near', () => {
    const [problem] = platePole('Nubean').problems;
    expect(problem).toMatchObject({ code: 'plate-unknown', received: 'Nubean', hint: 'did you mean Nubian?' });
  });

  it('of another model names that model', () => {
    expect(valueOf(platePole('Amurian', 'itrf2020')).code).toBe('AMUR');
    const [problem] = platePole('Caribbean').problems;
    expect(problem?.code).toBe('plate-unknown');
    expect(problem?.hint).toContain('--plate-model itrf2020');
  });

  it('is refused without a guess where no name is near, and lists all', () => {
    const [problem] = platePole('Atlantis').problems;
    expect(problem?.code).toBe('plate-unknown');
    expect(problem?.hint).toBeUndefined();
    expect(problem?.expected).toContain('Antarctic, Arabian');
  });
});
