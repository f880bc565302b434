import { constellationName } from '../../core/planning/stream/correction-stream.js';
import type { PlanReport, PlanReportStream, PlanReportVisit } from '../../records/reports/plan-report.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { fixed, kilometres, utc } from '../page/words/numbers.js';
import { table } from '../page/table.js';

/** The day, visit by visit. */
export function visitsTable(
  visits: readonly PlanReportVisit[],
  visitCount: number,
  leftOut: PlanReport['leftOut'],
): Markup {
  if (visits.length === 0) return markup`<p>There are no points to visit.</p>`;
  const missed =
    leftOut.length === 0
      ? null
      : markup`<p><b>Left out for want of time:</b> ${leftOut.slice(0, 40).map(({ pointId, occupation }, index) => markup`${index === 0 ? '' : ', '}${named(pointId)} (occupation ${String(occupation)})`)}${leftOut.length > 40 ? ` and ${String(leftOut.length - 40)} more` : ''}.</p>`;
  const bases = [...new Set(visits.map(({ baseId }) => baseId))];
  const crews =
    bases.length === 1
      ? null
      : markup`<p>${String(bases.length)} bases, and a table of each: all begin at the same hour, with one crew for each base, or on days of their own.</p>`;
  const tables = bases.map((baseId) =>
    ofBase(
      visits.filter((visit) => visit.baseId === baseId),
      bases.length === 1 ? null : baseId,
      visits.length < visitCount
        ? ` The first ${String(visits.length)} of ${String(visitCount)} visits are shown; the timetable's file has all.`
        : '',
    ),
  );
  return markup`${missed}${crews}${tables}`;
}

/** The visits of one base; its name where there are several. */
function ofBase(visits: readonly PlanReportVisit[], baseId: string | null, few: string): Markup {
  // A base has a visit; of none, the day would begin at its midnight.
  const first = utc((visits[0]?.arriveS ?? 0) * 1000).slice(0, 10);
  return table({
    label: baseId === null ? 'Timetable' : `Timetable of base ${baseId}`,
    caption: markup`<b>Timetable${baseId === null ? '' : markup` of base ${named(baseId)}`}.</b> ${first}, times of day in UTC; driving at the speed and detour stated, not by a map of roads.${few}`,
    columns: [
      { head: 'Arrive', unit: 'UTC', kind: 'text' },
      { head: 'Start', unit: 'UTC', kind: 'text' },
      { head: 'End', unit: 'UTC', kind: 'text' },
      { head: 'Place', kind: 'words' },
      { head: 'What', kind: 'text' },
      { head: 'Occ.', kind: 'number' },
      { head: 'Drive', unit: 'km', kind: 'number' },
      { head: 'Base', kind: 'words' },
    ],
    rows: visits.map(({ arriveS, startS, endS, pointId, role, occupation, driveM, baseId: base }) => [
      clock(arriveS, first),
      clock(startS, first),
      clock(endS, first),
      named(pointId),
      role.replace('-', ', '),
      String(occupation),
      kilometres(driveM, 1),
      named(base),
    ]),
  });
}

/** What the correction stream costs. */
export function streamTable(stream: PlanReportStream): Markup {
  const { kind, rateHz, hours, rovers } = stream;
  return table({
    label: 'Data budget',
    caption: markup`<b>Data budget.</b> ${kind === 'recorded' ? 'As recorded, ' : `${kind.toUpperCase()} at `}${String(rateHz)} Hz, for ${String(hours)} h, ${String(rovers)} ${rovers === 1 ? 'rover' : 'rovers'}. Uplink and every downlink are billed. MB is a million bytes.`,
    columns: [
      { head: 'What', kind: 'prose' },
      { head: 'Amount', kind: 'number' },
      { head: 'Unit', kind: 'text' },
    ],
    rows: [
      ...stream.messages.map(({ constellation, bytes }) => [
        `One message of ${constellationName(constellation)}`,
        String(bytes),
        'bytes',
      ]),
      ['Observations', fixed(stream.observationBytesPerS, 0), 'bytes/s'],
      ['Base position, antenna and biases', fixed(stream.companionBytesPerS, 1), 'bytes/s'],
      ['Network headers', fixed(stream.transportBytesPerS, 0), 'bytes/s'],
      ['Together', fixed(stream.totalKbitPerS, 2), 'kbit/s'],
      ['Uplink of the base', fixed(stream.baseUplinkMb, 1), 'MB'],
      ['Downlink of one rover', fixed(stream.roverDownlinkMb, 1), 'MB'],
      ['Billed in all', fixed(stream.billedMb, 1), 'MB'],
    ],
  });
}

/** Time of day, with the date where it is not that of the first visit. */
function clock(seconds: number, first: string): string {
  const text = utc(seconds * 1000);
  return text.startsWith(first) ? text.slice(11, 16) : `${text.slice(5, 10)} ${text.slice(11, 16)}`;
}
