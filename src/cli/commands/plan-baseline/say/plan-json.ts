import { answerJson } from '../../../../io/documents/answer-json.js';
import type { RunAnswer } from '../../../../records/runs/run-answer.js';
import type { AxisShares } from '../../../../core/planning/term-shares.js';
import type { Caution } from '../../../../core/planning/caution.js';
import { fixedNumber, rawJsonText, wholeNumber } from '../../../../io/documents/json/raw-json.js';
import type { RawJson } from '../../../../io/documents/json/raw-json.js';
import { cellColumns, createCellTexts } from '../../../../io/tables/columns/cells/cell-text.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import { createMembers } from '../../../../io/tables/columns/column-members.js';
import { DECIMALS } from '../../../../io/tables/columns/cells/decimals.js';
import type { PlacedBases, SitingFound } from '../../../../tasks/plan/place-bases.js';
import type { PlannedTarget } from '../../../../tasks/plan/targets/predict-targets.js';
import type { PlanTarget } from '../../../../tasks/plan/targets/plan-target.js';
import type { ToleranceRange } from '../../../../tasks/plan/tolerance-ranges.js';
import { SHARE_TERMS } from './plan-figure-columns.js';
import {
  BASE_COLUMNS,
  EXCLUDED_COLUMNS,
  RANGE_COLUMNS,
  RANKING_COLUMNS,
  RATIO_DECIMALS,
  REACH_COLUMNS,
  TIE_COLUMNS,
} from './siting-columns.js';
import type { PlanStream } from '../../../../tasks/plan/plan-stream.js';
import { entryAt } from '../../../../records/present.js';

/** Name and version of the form of a plan as JSON. */
export const PLAN_SCHEMA = 'pegbook-plan';
export const PLAN_VERSION = 1;

/** What the head of a plan is made from. */
export interface PlanHead {
  readonly system: string;
  readonly frame: string;
  readonly conditions: string;
  readonly placed: PlacedBases;
  readonly targets: readonly PlanTarget[];
  readonly ranges: readonly ToleranceRange[];
}

/** The opening of the document, up to its list of points. */
export function planHeadText({ system, frame, conditions, placed, targets, ranges }: PlanHead): string {
  const rangeOf = createMembers(RANGE_COLUMNS);
  const reachOf = createMembers(REACH_COLUMNS);
  const head: RawJson = {
    schema: PLAN_SCHEMA,
    version: wholeNumber(PLAN_VERSION),
    system,
    frame,
    conditions,
    bases: placed.bases.map(createMembers(BASE_COLUMNS)),
    siting: sitingJson(placed.found),
    excluded_candidates: placed.excluded.map(createMembers(EXCLUDED_COLUMNS)),
    ties: placed.ties
      .map((tie) => ({ ...tie, pointIds: tie.targets.map((index) => entryAt(targets, index).id) }))
      .map(createMembers(TIE_COLUMNS)),
    ranges: ranges.map((range) => ({
      ...rangeOf(range),
      ...Object.fromEntries(range.byConditions.map((entry) => [entry.conditions, reachOf(entry.range)])),
    })),
  };
  return `${rawJsonText(head).slice(0, -1)},"points":[`;
}

function sitingJson(found: SitingFound): RawJson {
  switch (found.kind) {
    case 'given':
      return { kind: 'given' };
    case 'free':
      return {
        kind: 'free',
        worst_ratio: fixedNumber(found.worstRatio, RATIO_DECIMALS),
        worst_distance_m: fixedNumber(found.worstDistanceM, DECIMALS.metres),
        lower_bound_ratio: fixedNumber(found.lowerBoundRatio, RATIO_DECIMALS),
        support_point_ids: found.support,
      };
    case 'best':
      return {
        kind: 'best-candidate',
        ranking: found.ranking.map(createMembers(RANKING_COLUMNS)),
      };
    case 'k':
      return {
        kind: 'k-bases',
        worst_ratio: fixedNumber(found.worstRatio, RATIO_DECIMALS),
        lower_bound_ratio: fixedNumber(found.lowerBoundRatio, RATIO_DECIMALS),
        exact: found.exact,
      };
    case 'fewest':
      return {
        kind: 'fewest-bases',
        exact: found.exact,
        lower_bound: wholeNumber(found.lowerBound),
        unserved_point_ids: found.unserved,
      };
  }
}

/** Writes one point: the columns of the CSV by the same names, and the shares of every term under all conditions. */
export function createPlanPointText(
  columns: readonly Column<never, PlannedTarget>[],
): (planned: PlannedTarget) => string {
  const cellsOf = createCellTexts(columns);
  const heads = cellColumns(columns).map(({ name, kind }) => ({ start: `${JSON.stringify(name)}:`, kind }));
  const sharesOf = (axis: AxisShares): RawJson =>
    Object.fromEntries(SHARE_TERMS.map((term) => [term, fixedNumber(axis[term], DECIMALS.correlation)]));
  return (planned) => {
    const cells = cellsOf(planned);
    const members = heads.map(({ start, kind }, index) => {
      const text = entryAt(cells, index);
      return `${start}${kind === 'number' ? text || 'null' : JSON.stringify(text)}`;
    });
    const all: RawJson = Object.fromEntries(
      planned.prediction.byConditions.map(({ conditions, shares }) => [
        conditions,
        { horizontal: sharesOf(shares.horizontal), vertical: sharesOf(shares.vertical) },
      ]),
    );
    return `{${members.join(',')},"shares":${rawJsonText(all)}}`;
  };
}

/** The end of the document: the correction stream and the cautions. */
export function planTailText(stream: PlanStream | null, cautions: readonly Caution[], answer: RunAnswer): string {
  const tail: RawJson = {
    stream: stream === null ? null : streamJson(stream),
    cautions: cautions.map(({ id, text, source }) => ({ id, text, source })),
    verdict: answer.answer,
  };
  return `\n],${rawJsonText(tail).slice(1, -1)},"summary":${JSON.stringify(answerJson(answer))}}\n`;
}

function streamJson({ kind, constellations, rateHz, hours, rovers, cost }: PlanStream): RawJson {
  return {
    kind,
    constellations: constellations.map(({ name, satellites, signals }) => ({
      name,
      satellites: wholeNumber(satellites),
      signals: wholeNumber(signals),
    })),
    rate_hz: wholeNumber(rateHz),
    hours: wholeNumber(hours),
    rovers: wholeNumber(rovers),
    messages: cost.messages.map((message) => ({
      constellation: message.constellation,
      satellites: wholeNumber(message.satellites),
      cells: wholeNumber(message.cells),
      frame_bytes: wholeNumber(message.frameBytes),
    })),
    observation_bytes_per_s: fixedNumber(cost.observationBytesPerS, 1),
    companion_bytes_per_s: fixedNumber(cost.companionBytesPerS, 1),
    transport_bytes_per_s: fixedNumber(cost.transportBytesPerS, 1),
    total_bytes_per_s: fixedNumber(cost.totalBytesPerS, 1),
    observation_kbit_per_s: fixedNumber(cost.observationKbitPerS, 2),
    total_kbit_per_s: fixedNumber(cost.totalKbitPerS, 2),
    base_uplink_mb: fixedNumber(cost.baseUplinkMb, 2),
    rover_downlink_mb: fixedNumber(cost.roverDownlinkMb, 2),
    billed_mb: fixedNumber(cost.billedMb, 2),
  };
}
