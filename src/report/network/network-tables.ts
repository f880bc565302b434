import { height95M } from '../../core/observation/uncertainty/height-95.js';
import type { NetworkPageReport } from '../../records/reports/network-page-report.js';
import { VERDICT_OF_POINTS } from '../../records/points/verdict-of-points.js';
import type { Answer } from '../../records/runs/run-answer.js';
import { markup, named, NO_MARKUP } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { millimetresOrMore } from '../page/words/length-unit.js';
import { fixed, metres, millimetres, readable, UNKNOWN } from '../page/words/numbers.js';
import { table } from '../page/table.js';

function answerCell(answer: Answer, word: string = answer): Markup {
  return answer === 'within' ? markup`${word}` : markup`<span class="no">${word}</span>`;
}

function leftOut(shown: number, all: number): string {
  return shown < all
    ? ` ${String(shown)} of ${String(all)} are shown, those to look at first; the data file has all.`
    : '';
}

/** Stations, those to look at first before others. */
export function stationsTable({ stations, stationCount, worst }: NetworkPageReport): Markup {
  return table({
    label: 'Stations',
    caption: markup`<b>Stations.</b> 95 % figures, absolute and relative to the nearest control. What could hide: the largest error of one number that the test just finds, and how far it would move the station.${worst?.sigmaFactor == null ? '' : ' Largest w is over the sigmas as they were stated, with all control holding.'}${leftOut(stations.length, stationCount)}`,
    columns: [
      { head: 'Station', kind: 'words' },
      { head: 'Verdict', kind: 'text' },
      { head: 'Checked', kind: 'text' },
      { head: 'Circle', unit: '95 %, mm', kind: 'number' },
      { head: 'Height', unit: '95 %, mm', kind: 'number' },
      { head: 'Nearest control', kind: 'words' },
      { head: 'Relative', unit: 'circle / height, mm', kind: 'number' },
      { head: 'Redundancy', kind: 'number' },
      { head: 'Largest w', kind: 'number' },
      { head: 'Could hide', unit: 'error / move, mm', kind: 'number' },
    ],
    rows: stations.map(({ point, isControl }) => [
      named(point.id),
      answerCell(point.verdict, VERDICT_OF_POINTS[point.verdict]),
      point.isChecked ? (isControl ? 'yes, control' : 'yes') : markup`<span class="no">unchecked</span>`,
      millimetres(point.summary?.circle95M ?? null),
      millimetres(height95M(point.summary, point.sigmaUpM)),
      point.nearestControl === null ? UNKNOWN : named(point.nearestControl),
      `${millimetres(point.relativeCircle95M)} / ${millimetres(point.relativeVertical95M)}`,
      fixed(point.redundancy, 2),
      readable(point.largestW, 2),
      `${millimetres(point.minimalDetectableBiasM)} / ${millimetres(point.externalReliabilityM)}`,
    ]),
  });
}

/** Pairs asked for. */
export function relativeTable({ relative, arePairsAsked }: NetworkPageReport): Markup {
  if (!arePairsAsked) return NO_MARKUP;
  return table({
    label: 'Relative accuracy',
    caption: markup`<b>Relative accuracy of the pairs asked for.</b> 95 %.`,
    columns: [
      { head: 'From', kind: 'words' },
      { head: 'To', kind: 'words' },
      { head: 'Distance', unit: 'm', kind: 'number' },
      { head: 'Ellipse', unit: 'major / minor, mm', kind: 'number' },
      { head: 'Circle', unit: 'mm', kind: 'number' },
      { head: 'Height', unit: 'mm', kind: 'number' },
    ],
    rows: relative.map(({ fromId, toId, distanceM, summary }) => [
      named(fromId),
      named(toId),
      fixed(distanceM, 1),
      `${millimetres(summary.ellipseMajor95M)} / ${millimetres(summary.ellipseMinor95M)}`,
      millimetres(summary.circle95M),
      millimetres(summary.vertical95M),
    ]),
  });
}

/** Whether the network and the other control agree with what is stated; the station has its own verdict, `rejected` where they do not. */
const AGREES = { within: 'yes', review: 'not tested', no: 'no' } as const;

/** Every control point: what it was held against, and whether it holds the coordinates. */
export function controlTable({ control }: NetworkPageReport): Markup {
  if (control.length === 0) return markup`<p>No control meets the network.</p>`;
  return table({
    label: 'Control',
    caption: markup`<b>Control.</b> What the network and the other control say, less what is stated, before the control holds; and whether it holds afterwards.`,
    columns: [
      { head: 'Point', kind: 'words' },
      { head: 'Agrees', kind: 'text' },
      { head: 'Holds', kind: 'text' },
      { head: 'East', unit: 'mm', kind: 'number' },
      { head: 'North', unit: 'mm', kind: 'number' },
      { head: 'Up', unit: 'mm', kind: 'number' },
      { head: 'Test', kind: 'number' },
      { head: 'Limit', kind: 'number' },
      { head: 'Reasons', kind: 'codes' },
    ],
    rows: control.map((row) => [
      named(row.id),
      answerCell(row.verdict, AGREES[row.verdict]),
      row.isHolding ? row.held : `no (${row.held})`,
      millimetresOrMore(row.differenceM[0]),
      millimetresOrMore(row.differenceM[1]),
      millimetresOrMore(row.differenceM[2]),
      readable(row.test, 2),
      fixed(row.limit, 2),
      row.reasons.join(', '),
    ]),
  });
}

/** What was left out. */
export function removedTable({ removed }: NetworkPageReport): Markup {
  if (removed.length === 0) return markup`<p>Nothing was left out. Observations and control that fail stay in.</p>`;
  return table({
    label: 'Left out',
    caption: markup`<b>Left out,</b> one at a time, in this order.`,
    columns: [
      { head: 'What', kind: 'words' },
      { head: 'Why', kind: 'prose' },
    ],
    rows: removed.map(({ what, why }) => [named(what), why]),
  });
}

/** What held the network in the step that judges it: one station of each part. */
function heldBy(anchors: readonly string[]): Markup {
  const [only] = anchors;
  return only !== undefined && anchors.length === 1 ? markup`${named(only)} alone` : markup`one station of each part`;
}

/** In sigmas: the limit of a net whose factor is estimated is of other units, and never larger. */
const LEAST_BENT = 3;

/** Observations with their tests, those that fail first. */
export function observationsTable({ observations, observationCount, anchors, worst }: NetworkPageReport): Markup {
  const three = (values: readonly (number | null)[], write: (value: number | null) => string): string =>
    values.length === 0 ? UNKNOWN : values.map(write).join(' / ');
  // What agrees with the other observations may be bent by control that holds it afterwards.
  const isBent = (values: readonly (number | null)[]): boolean =>
    values.some((w) => w !== null && Math.abs(w) > Math.max(LEAST_BENT, worst?.limit ?? Infinity)); // Where nothing is tested no limit is.
  return table({
    label: 'Observations',
    caption: markup`<b>Observations.</b> Residuals (adjusted minus observed) after the control holds; of a vector geocentric X / Y / Z. Redundancy is the share of an error that shows in the residual, of a vector the sum of three. The verdict and what the others say come from an earlier step, the network held by ${heldBy(anchors)} before other control could bend it, and so need not agree with the residual, redundancy and w beside them, which are of all together; what only control checks is all of the later step.${leftOut(observations.length, observationCount)}`,
    columns: [
      { head: 'From', kind: 'words' },
      { head: 'To', kind: 'words' },
      { head: 'Kind', kind: 'text' },
      { head: 'Verdict', kind: 'codes' },
      { head: 'Residual', unit: 'mm', kind: 'number' },
      { head: 'Redundancy', kind: 'number' },
      { head: 'w', kind: 'number' },
      { head: 'Others say', unit: 'more, mm', kind: 'number' },
      { head: 'Where', kind: 'words' },
    ],
    rows: observations.map(({ row, where }) => [
      named(row.fromId),
      named(row.toId),
      row.kind,
      row.reasons.length === 0
        ? answerCell(
            row.verdict,
            row.verdict === 'within' && isBent(row.w) ? 'within, before the control held' : row.verdict,
          )
        : markup`${answerCell(row.verdict)}: ${row.reasons.join(', ')}`,
      three(row.residualsM, millimetresOrMore),
      row.redundancy.length === 0
        ? UNKNOWN
        : fixed(
            row.redundancy.reduce((sum, value) => sum + value, 0),
            2,
          ),
      three(row.w, (value) => readable(value, 2)),
      three(row.estimatedBiasM, millimetresOrMore),
      named(where),
    ]),
  });
}

/** Bases whose marks no control holds. */
export function basesTable({ bases }: NetworkPageReport): Markup {
  if (bases.length === 0) return NO_MARKUP;
  return table({
    label: 'Bases',
    caption: markup`<b>Bases.</b> For <code>known</code> and the sigmas of their <code>[[base]]</code> in the session, after which the points are reduced again. The sigmas hold setting up over the mark.${bases.some(({ isRejected }) => isRejected) ? ' One that is rejected is to be settled first: something that fails meets it.' : ''}`,
    columns: [
      { head: 'Base', kind: 'words' },
      { head: 'At', kind: 'text' },
      { head: 'latitude_deg', kind: 'number' },
      { head: 'longitude_deg', kind: 'number' },
      { head: 'ellipsoidal_height_m', kind: 'number' },
      { head: 'Sigma', unit: 'horizontal / vertical, m', kind: 'number' },
      { head: 'Checked', kind: 'text' },
    ],
    rows: bases.map((base) => [
      named(base.id),
      base.at,
      fixed(base.geodetic.latitudeDeg, 9),
      fixed(base.geodetic.longitudeDeg, 9),
      metres(base.geodetic.ellipsoidalHeightM),
      `${metres(base.sigmaHorizontalM)} / ${metres(base.sigmaVerticalM)}`,
      base.isRejected
        ? markup`<span class="no">rejected</span>`
        : base.isChecked
          ? 'yes'
          : markup`<span class="no">unchecked</span>`,
    ]),
  });
}

/** Errors of set-ups, poles and the geoid. */
export function parametersTable({ parameters }: NetworkPageReport): Markup {
  if (parameters.length === 0) return NO_MARKUP;
  return table({
    label: 'Shared errors',
    caption: markup`<b>Shared errors.</b> What each was stated to be, and what the observations say of it; millimetres.`,
    columns: [
      { head: 'Of', kind: 'words' },
      { head: 'Component', kind: 'text' },
      { head: 'Stated', unit: 'one sigma', kind: 'number' },
      { head: 'Found', kind: 'number' },
      { head: 'Sigma', kind: 'number' },
    ],
    rows: parameters.map(({ name, component, valueM, sigmaM, statedSigmaM }) => [
      named(name),
      component === 'one' ? UNKNOWN : component,
      millimetresOrMore(statedSigmaM),
      millimetresOrMore(valueM),
      millimetresOrMore(sigmaM),
    ]),
  });
}

/** What was looked for beside shifts, those kept first. */
export function distortionsTable({ distortions }: NetworkPageReport): Markup {
  if (distortions === null) return NO_MARKUP;
  const { rows, count } = distortions;
  const ANSWERS = {
    kept: 'kept',
    'not-significant': 'not significant',
    undetermined: 'cannot be told from places and shifts',
    'one-alone': 'not kept',
  };
  return table({
    label: 'Distortions',
    caption: markup`<b>Distortions looked for.</b> What all vectors of a base or day may have in common, in millimetres a kilometre; a turn of one is 0.2″. Kept is an unknown of the adjustment; of the others, what it would be.${leftOut(rows.length, count)}`,
    columns: [
      { head: 'Of', kind: 'words' },
      { head: 'Answer', kind: 'prose' },
      { head: 'Found', unit: 'mm/km', kind: 'number' },
      { head: 'Sigma', unit: 'mm/km', kind: 'number' },
      { head: 'Test', kind: 'number' },
      { head: 'Limit', kind: 'number' },
    ],
    rows: rows.map(({ name, answer, hangsOn, alike, valuePpm, sigmaPpm, test, limit }) => [
      named(name),
      hangsOn !== null
        ? markup`not kept: without ${named(hangsOn)} nothing asks for it`
        : alike === null
          ? ANSWERS[answer]
          : markup`${ANSWERS[answer]}; it can hardly be told from the height of ${named(alike.stationId)} (correlation ${fixed(alike.correlation, 2)})`,
      fixed(valuePpm, 2),
      fixed(sigmaPpm, 2),
      fixed(test, 1),
      fixed(limit, 1),
    ]),
  });
}
