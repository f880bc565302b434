import { describe, expect, it } from 'vitest';
import type { PlanReportVisit } from '../../../src/records/reports/plan-report.js';
import { visitsTable } from '../../../src/report/plan/day-tables.js';
import { cellsOfTable, plainText } from '../../support/table-cells.js';

const visit = (baseId: string, pointId: string, arriveS: number): PlanReportVisit => ({
  baseId,
  pointId,
  role: 'work',
  occupation: 1,
  driveM: 1500,
  arriveS,
  startS: arriveS + 180,
  endS: arriveS + 360,
});
// 2026-03-04T06:00:00Z.
const SIX = 1_772_604_000;

describe('the visits of a plan', () => {
  it('stand in a table of each base, as nobody is at two at once', () => {
    const visits = [visit('A', 'P1', SIX), visit('A', 'P2', SIX + 3600), visit('B', 'P3', SIX)];
    const { html } = visitsTable(visits, 3, []);
    expect(plainText(html)).toContain('one crew for each base');
    expect(cellsOfTable(html, 'Timetable of base <bdi>A</bdi>.').map((cells) => [cells[0], cells[3]])).toEqual([
      ['06:00', 'P1'],
      ['07:00', 'P2'],
    ]);
    expect(cellsOfTable(html, 'Timetable of base <bdi>B</bdi>.').map((cells) => [cells[0], cells[3]])).toEqual([
      ['06:00', 'P3'],
    ]);
  });

  it('of one base stand in one table', () => {
    const { html } = visitsTable([visit('A', 'P1', SIX)], 1, []);
    expect(cellsOfTable(html, 'Timetable.')).toHaveLength(1);
    expect(html).not.toContain('crew');
  });
});
