import { describe, expect, it } from 'vitest';
import { createPageWarnings } from '../../../../src/cli/shell/messages/page-warnings.js';
import { warningProblem } from '../../../../src/records/problem.js';
import type { Problem } from '../../../../src/records/problem.js';

// Which warnings a page has is our own rule: those of the run, of which many of a kind are counted; of one point those that name it or are of all.
const far = (id: string, line: number): Problem =>
  warningProblem('site-outside-control', {
    message: `${id}: the point is 20 m outside the control of the site`,
    where: { source: 'points.csv', line },
  });
const ofAll = warningProblem('config-unstated', { message: 'no sigma of the geoid is stated' });
const ofBase = warningProblem('coordinate-outside-area', { message: 'B1 is outside the area of use of a zone' });
const linesOf = (onlyPoint: string | null, problems: readonly Problem[]): readonly string[] => {
  const warnings = createPageWarnings(onlyPoint);
  for (const problem of problems) warnings.take(problem);
  return warnings.lines();
};

describe('the warnings of a page', () => {
  const many = Array.from({ length: 90 }, (_, at) => far(`P${String(at + 1)}`, at + 2));

  it('are of a whole run the first of each kind and how many more', () => {
    const lines = linesOf(null, [...many, ofAll]);
    expect(lines.filter((line) => line.includes('outside the control'))).toHaveLength(3);
    expect(lines).toContain('no sigma of the geoid is stated');
    expect(lines.at(-1)).toBe('points.csv: 87 more like it, lines 5 to 91');
  });

  it('are of one point its own, however late it comes, and those of all', () => {
    const lines = linesOf('P88', [...many, ofAll, ofBase]);
    expect(lines).toEqual([
      'points.csv:89: P88: the point is 20 m outside the control of the site',
      'no sigma of the geoid is stated',
      'B1 is outside the area of use of a zone',
    ]);
  });

  it('do not take a name for another that begins or ends like it', () => {
    expect(linesOf('P1', many)).toEqual(['points.csv:2: P1: the point is 20 m outside the control of the site']);
    expect(linesOf('8', many)).toEqual([]);
    expect(linesOf('P8', [far('AP8', 3), far('P8-A', 4), far('P-8', 5)])).toEqual([]);
  });

  it('know the point of an occupation, and rows of others', () => {
    const dispute = (id: string): Problem =>
      warningProblem('point-repeat-disagrees', { message: `the 2 occupations of ${id} disagree` });
    const row = (id: string, line: number): Problem =>
      warningProblem('coordinate-outside-area', {
        message: `point ${id} is 3.1 km outside the area of use of a zone`,
        where: { source: 'points.csv', line },
      });
    expect(linesOf('P3@2', [dispute('P3'), dispute('P30'), row('P4', 5), row('P3', 4)])).toEqual([
      'the 2 occupations of P3 disagree',
      'points.csv:4: point P3 is 3.1 km outside the area of use of a zone',
    ]);
  });
});
