import { describe, expect, it } from 'vitest';
import { poleDoubt, poleWarning } from '../../../src/tasks/check/pole-doubt.js';
import type { Fix } from '../../../src/records/points/fix.js';
import type { RoverSettings } from '../../../src/records/session.js';

const rover = (change: Partial<RoverSettings>): RoverSettings =>
  ({ referencePoint: 'apc', phaseCentreOffsetM: 0.075, poleLengthM: null, ...change }) as RoverSettings;
const fix = (poleLengthM: number | null, referencePoint: Fix['referencePoint'] = null): Fix =>
  ({ pointId: 'P1', poleLengthM, referencePoint }) as Fix;

// Lengths of poles that are used, and faults of typing them: common practice, no published source.
describe('poleDoubt', () => {
  it.each([0.2, 1.8, 2, 4.6, 5])('has nothing against a pole of %d m', (length) => {
    expect(poleDoubt(fix(length), rover({}))).toBeNull();
    expect(poleDoubt(fix(null), rover({ poleLengthM: length }))).toBeNull();
  });

  it('doubts a pole typed in feet, of the row and of the session', () => {
    // 2 m are 6.5617 international feet of 0.3048 m.
    expect(poleDoubt(fix(6.56), rover({}))).toBe('too-long');
    expect(poleDoubt(fix(null, 'arp'), rover({ poleLengthM: 6.56 }))).toBe('too-long');
    expect(poleWarning(fix(6.56), rover({}), 'too-long').message).toContain('taken for feet it is 1.999 m');
    expect(poleWarning(fix(200), rover({}), 'too-long').message).not.toContain('feet');
  });

  it('doubts a pole of no length below an antenna, and asks for none where positions are of the tip', () => {
    expect(poleDoubt(fix(0), rover({}))).toBe('none');
    expect(poleDoubt(fix(0, 'arp'), rover({}))).toBe('none');
    expect(poleDoubt(fix(0, 'tip'), rover({}))).toBeNull();
    // Both stated as 0: the positions are said to be of the mark in other words.
    expect(poleDoubt(fix(0), rover({ phaseCentreOffsetM: 0 }))).toBeNull();
  });

  it('doubts a phase centre that lost a decimal, where it counts', () => {
    expect(poleDoubt(fix(2), rover({ phaseCentreOffsetM: 0.75 }))).toBe('phase-centre');
    expect(poleDoubt(fix(2), rover({ phaseCentreOffsetM: 0.3 }))).toBeNull();
    expect(poleDoubt(fix(2, 'arp'), rover({ phaseCentreOffsetM: 0.75 }))).toBeNull();
  });
});
