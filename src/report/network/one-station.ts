import { height95M } from '../../core/observation/uncertainty/height-95.js';
import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { NetworkPageReport, PlottedStation } from '../../records/reports/network-page-report.js';
import type { NetworkControlResult, NetworkPoint } from '../../records/reports/network-report.js';
import { answerWord } from '../page/words/answer-word.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { lengthUnit } from '../page/words/length-unit.js';
import { counted, fixed, millimetres, readable } from '../page/words/numbers.js';
import { sideOf } from '../page/words/side-words.js';
import { surveyLines } from '../page/words/survey-words.js';
import { namesOf, stillHolds } from './network-words.js';

/** A page of one station: it, and the report as far as it is of that station. */
export interface OneStation {
  readonly station: PlottedStation;
  /** With its own row, observations, control and relative accuracy alone. */
  readonly own: NetworkPageReport;
}

/** The station that --explain names; null on the page of a whole network. */
export function oneStation(report: NetworkPageReport): OneStation | null {
  const station = report.stations.find(({ point }) => point.id === report.onlyPoint);
  if (station === undefined) return null;
  const { id } = station.point;
  const meets = (line: { readonly fromId: string; readonly toId: string }): boolean =>
    line.fromId === id || line.toId === id;
  const observations = report.observations.filter(({ row }) => meets(row));
  return {
    station,
    own: {
      ...report,
      stations: [station],
      stationCount: 1,
      observations,
      observationCount: observations.length,
      relative: report.relative.filter(meets),
      control: report.control.filter((one) => one.id === id),
      reasons: [],
    },
  };
}

/** The first screen of the page of one station: its figures, what checks it, what fails, what the network says of it as control, what to do next. */
export function oneStationVerdict(report: NetworkPageReport, { station, own }: OneStation): readonly Markup[] {
  const { point, isControl } = station;
  const [control] = own.control;
  const failing = own.observations.filter(({ row }) => row.verdict === 'no');
  return [
    markup`<b>${answerWord(point.verdict)}</b> ${named(point.id)}${isControl ? ', which holds the network' : ''}: ${accuracyWords(point)}.`,
    checkedLine(point, own.observations.length),
    ...(failing.length === 0
      ? []
      : [
          markup`<b>Fails:</b> ${failing.map(({ row }, index) => markup`${index === 0 ? '' : '; '}${row.kind} ${named(row.fromId)} to ${named(row.toId)}${offWords(row.estimatedBiasM)}`)}.`,
        ]),
    ...(control === undefined ? [] : [controlLine(control)]),
    markup`<b>Next.</b> ${nextWords(point, own)}`,
    markup`<b>The network.</b> ${answerWord(report.answer)} ${counted(report.counts.stations, 'station')}, ${counted(report.counts.observations, 'observation')}, ${counted(report.counts.control, 'control point')}; ${report.counts.failed === 0 ? 'no observation fails' : `observations that fail: ${String(report.counts.failed)}`}.${contradicted(report)}${stillHolds(report)}`,
    ...surveyLines(report),
    markup`<b>Not done.</b> Frame and epoch of the control were taken as those of the observations. What the other stations say is on the page of the whole network.`,
  ];
}

function accuracyWords(point: NetworkPoint): Markup {
  const heightM = height95M(point.summary, point.sigmaUpM);
  const own = [
    ...(point.summary === null ? [] : [`circle of 95 % ${millimetres(point.summary.circle95M)} mm`]),
    ...(heightM === null ? [] : [`height within ${millimetres(heightM)} mm (95 %)`]),
  ].join(', ');
  const { nearestControl, relativeCircle95M, relativeVertical95M } = point;
  return nearestControl === null
    ? markup`${own}`
    : markup`${own}; relative to control ${named(nearestControl)} ${millimetres(relativeCircle95M)} mm in plan, ${millimetres(relativeVertical95M)} mm in height`;
}

function checkedLine(point: NetworkPoint, observations: number): Markup {
  const meet = `${counted(observations, 'observation')} ${observations === 1 ? 'meets' : 'meet'} it`;
  if (!point.isChecked) return markup`<b>Nothing checks it.</b> ${meet}: one blunder goes into it whole and unseen.`;
  const { largestW, minimalDetectableBiasM: bias, externalReliabilityM: move } = point;
  const hidden =
    bias === null || move === null
      ? ' One of them is checked by nothing.'
      : ` An error of ${millimetres(bias)} mm in one of them would just be found, and could move it ${millimetres(move)} mm.`;
  return markup`<b>Checked.</b> ${meet}; redundancy ${fixed(point.redundancy, 2)}, largest residual ${readable(largestW, 2)} of its sigma.${hidden}`;
}

/** How much more the others say, by the length of it. */
function offWords(biasM: readonly number[]): string {
  if (biasM.length === 0) return '';
  const size = Math.sqrt(biasM.reduce((sum, value) => sum + value * value, 0));
  const unit = lengthUnit(size);
  return ` (by the others ${unit.write(size)} ${unit.name} off)`;
}

function controlLine({ differenceM, test, limit, isHolding, held, verdict }: NetworkControlResult): Markup {
  const axes = (['east', 'north', 'up'] as const).flatMap((axis, index) => {
    const value = differenceM[index] ?? null; // Of an axis that does not hold.
    if (value === null) return [];
    const unit = lengthUnit(Math.abs(value));
    return [`${unit.write(Math.abs(value))} ${unit.name} ${sideOf(axis, value)}`];
  });
  const said =
    axes.length === 0
      ? 'nothing else speaks of it'
      : `the network and the other control put it ${axes.join(', ')} where it is stated${test === null || limit === null ? '' : `; test ${readable(test, 1)}, limit ${fixed(limit, 1)}`}`;
  return markup`<b>As control</b> it ${verdict === 'no' ? 'does not agree' : verdict === 'review' ? 'is not tested' : 'agrees'}: ${said}. ${isHolding ? `It holds the network (${held}).` : 'It does not hold the network.'}`;
}

/** Control that its test refuses, by name. */
function contradicted({ control }: NetworkPageReport): Markup {
  const ids = control.flatMap(({ id, verdict }) => (verdict === 'no' ? [id] : []));
  return ids.length === 0 ? markup`` : markup` Control that does not agree: ${namesOf(ids)}.`;
}

function nextWords({ verdict, reasons }: NetworkPoint, own: NetworkPageReport): string {
  const codes = new Set([
    ...reasons,
    ...own.observations.flatMap(({ row }) => (row.verdict === 'no' ? row.reasons : [])),
    ...own.control.flatMap((row) => (row.verdict === 'no' ? row.reasons : [])),
  ]);
  const fixes = [...new Set([...codes].flatMap((code) => PROBLEM_CODES[code].fix.split('; ')))].join('; ');
  if (fixes !== '') return `${fixes.slice(0, 1).toUpperCase()}${fixes.slice(1)}.`;
  return verdict === 'within' ? 'Nothing is open at this station.' : 'See its working below.';
}
