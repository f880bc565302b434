import { describe, expect, it } from 'vitest';
import { createProblemGroups } from '../../../../src/cli/shell/messages/problem-groups.js';
import { errorProblem, warningProblem } from '../../../../src/records/problem.js';
import type { Problem } from '../../../../src/records/problem.js';

const cell = (line: number, column: string, text: string): Problem =>
  errorProblem('value-not-a-number', {
    message: `"${text}" is not a number`,
    where: { source: 'fixes.csv', line, column },
    received: text,
  });

describe('createProblemGroups', () => {
  it('shows three of a kind, whatever their values, and counts the rest with their lines', () => {
    const groups = createProblemGroups();
    const shown = Array.from({ length: 600 }, (_, index) =>
      groups.isShown(cell(index + 2, 'pdop', `n/a ${String(index)}`)),
    );
    expect(shown.filter(Boolean)).toHaveLength(3);
    expect(shown.slice(0, 3)).toEqual([true, true, true]);
    expect(groups.lines()).toEqual(['fixes.csv: 597 more like it in pdop, lines 5 to 601 [value-not-a-number]']);
    expect(groups.plainLines()).toEqual(['fixes.csv: 597 more like it in pdop, lines 5 to 601']);
  });

  it('keeps columns, files, severities and words apart', () => {
    const groups = createProblemGroups();
    const others = [
      cell(9, 'hdop', 'x'),
      { ...cell(9, 'pdop', 'x'), where: { source: 'other.csv', line: 9, column: 'pdop' } },
      { ...cell(9, 'pdop', 'x'), message: 'is empty' },
      warningProblem('value-not-a-number', {
        message: '"x" is not a number',
        where: { source: 'fixes.csv', line: 9, column: 'pdop' },
      }),
    ];
    for (let line = 2; line < 6; line += 1) groups.isShown(cell(line, 'pdop', 'x'));
    for (const other of others) expect(groups.isShown(other)).toBe(true);
    expect(groups.lines()).toEqual(['fixes.csv: 1 more like it in pdop, line 5 [value-not-a-number]']);
  });

  it('takes features of a document for one kind, which have no lines', () => {
    const groups = createProblemGroups();
    for (let index = 0; index < 5; index += 1)
      groups.isShown(
        warningProblem('geojson-structure', {
          message: 'is not a Feature',
          where: { source: 'a.geojson', path: `features[${String(index)}]` },
        }),
      );
    expect(groups.lines()).toEqual(['a.geojson: warning: 2 more like it [geojson-structure]']);
  });

  it('says nothing of three', () => {
    const groups = createProblemGroups();
    for (let line = 2; line < 5; line += 1) groups.isShown(cell(line, 'pdop', 'x'));
    expect(groups.lines()).toEqual([]);
  });
});
