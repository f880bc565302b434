import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { ALL_CONDITIONS } from '../../../../core/planning/prediction.js';
import type { AxisShares } from '../../../../core/planning/term-shares.js';
import type { Caution } from '../../../../core/planning/caution.js';
import type { PlacedBases, SitingFound } from '../../../../tasks/plan/place-bases.js';
import type { PlannedTarget } from '../../../../tasks/plan/predict-targets.js';
import type { PlanTarget } from '../../../../tasks/plan/plan-target.js';
import type { ToleranceRange } from '../../../../tasks/plan/tolerance-ranges.js';
import { SHARE_TERMS } from './plan-columns.js';
import type { PlanColumn } from './plan-columns.js';
import type { PlanStream } from '../options/plan-stream.js';
import { entryAt } from '../../../../records/present.js';

/** Name and version of the form of a plan as JSON. */
export const PLAN_SCHEMA = 'pegbook-plan';
export const PLAN_VERSION = 1;

/** A number as it is printed, so that every format agrees. */
function fixed(value: number | null, decimals: number): RawNumber | null {
  return value === null ? null : { raw: formatFixed(value, decimals) };
}

/** A number already written; `json` puts it in as it is. */
interface RawNumber {
  readonly raw: string;
}

type Json = string | boolean | null | RawNumber | readonly Json[] | { readonly [name: string]: Json };

function isRaw(value: object): value is RawNumber {
  return 'raw' in value && typeof value.raw === 'string';
}

function json(value: Json): string {
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map((item: Json) => json(item)).join(',')}]`;
  if (isRaw(value)) return value.raw;
  return `{${Object.entries(value)
    .map(([name, inner]: [string, Json]) => `${JSON.stringify(name)}:${json(inner)}`)
    .join(',')}}`;
}

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
  const head: Json = {
    schema: PLAN_SCHEMA,
    version: { raw: String(PLAN_VERSION) },
    system,
    frame,
    conditions,
    bases: placed.bases.map((base) => ({
      base_id: base.id,
      latitude_deg: fixed(base.latitudeDeg, 9),
      longitude_deg: fixed(base.longitudeDeg, 9),
      ellipsoidal_height_m: fixed(base.ellipsoidalHeightM, 4),
    })),
    siting: sitingJson(placed.found),
    excluded_candidates: placed.excluded.map(({ id, reason }) => ({ point_id: id, reason })),
    ties: placed.ties.map((tie) => ({
      base_a: tie.baseA,
      base_b: tie.baseB,
      enough: tie.enough,
      point_ids: tie.targets.map((index) => entryAt(targets, index).id),
    })),
    ranges: ranges.map((range) => ({
      tolerance_horizontal_m: fixed(range.toleranceHorizontalM, 4),
      tolerance_vertical_m: fixed(range.toleranceVerticalM, 4),
      points: { raw: String(range.targets) },
      ...Object.fromEntries(
        range.byConditions.map(({ conditions: name, range: found }) => [
          name,
          {
            range_m: fixed(found.rangeM, 4),
            range_horizontal_m: fixed(found.horizontal?.rangeM ?? null, 4),
            range_horizontal_status: found.horizontal?.status ?? null,
            range_vertical_m: fixed(found.vertical?.rangeM ?? null, 4),
            range_vertical_status: found.vertical?.status ?? null,
          },
        ]),
      ),
    })),
  };
  return `${json(head).slice(0, -1)},"points":[`;
}

function sitingJson(found: SitingFound): Json {
  switch (found.kind) {
    case 'given':
      return { kind: 'given' };
    case 'free':
      return {
        kind: 'free',
        worst_ratio: fixed(found.worstRatio, 6),
        worst_distance_m: fixed(found.worstDistanceM, 4),
        lower_bound_ratio: fixed(found.lowerBoundRatio, 6),
        support_point_ids: found.support,
      };
    case 'best':
      return {
        kind: 'best-candidate',
        ranking: found.ranking.map((rank) => ({
          point_id: rank.candidate.id,
          worst_ratio: fixed(rank.worstRatio, 6),
          worst_distance_m: fixed(rank.worstDistanceM, 4),
          mean_distance_m: fixed(rank.meanDistanceM, 4),
          distance_95_m: fixed(rank.distance95M, 4),
          served: { raw: String(rank.servedCount) },
          worst_point_ids: rank.worstPoints,
          tie_class: { raw: String(rank.tieClass) },
          cellular: rank.candidate.cellular,
          sky_score: rank.candidate.skyScore === null ? null : { raw: String(rank.candidate.skyScore) },
          cost: rank.candidate.cost === null ? null : { raw: String(rank.candidate.cost) },
        })),
      };
    case 'k':
      return {
        kind: 'k-bases',
        worst_ratio: fixed(found.worstRatio, 6),
        lower_bound_ratio: fixed(found.lowerBoundRatio, 6),
        exact: found.exact,
      };
    case 'fewest':
      return {
        kind: 'fewest-bases',
        exact: found.exact,
        lower_bound: { raw: String(found.lowerBound) },
        unserved_point_ids: found.unserved,
      };
  }
}

/** One point: the columns of the CSV by the same names, and the shares of every term under all conditions. */
export function planPointText(planned: PlannedTarget, columns: readonly PlanColumn[]): string {
  const members = columns.map(({ name, kind, cell }) => {
    const text = cell(planned);
    return `${JSON.stringify(name)}:${kind === 'number' ? text || 'null' : JSON.stringify(text)}`;
  });
  const shares = (axis: AxisShares): Json =>
    Object.fromEntries(SHARE_TERMS.map((term) => [term, fixed(axis[term], 4)]));
  const all: Json = Object.fromEntries(
    planned.prediction.byConditions.map((at, index) => [
      entryAt(ALL_CONDITIONS, index),
      { horizontal: shares(at.shares.horizontal), vertical: shares(at.shares.vertical) },
    ]),
  );
  return `{${members.join(',')},"shares":${json(all)}}`;
}

/** The end of the document: the correction stream and the cautions. */
export function planTailText(stream: PlanStream | null, cautions: readonly Caution[], verdict: string): string {
  const tail: Json = {
    stream: stream === null ? null : streamJson(stream),
    cautions: cautions.map(({ id, text, source }) => ({ id, text, source })),
    verdict,
  };
  return `\n],${json(tail).slice(1)}\n`;
}

function streamJson({ kind, constellations, rateHz, hours, rovers, cost }: PlanStream): Json {
  const whole = (value: number): RawNumber => ({ raw: String(value) });
  return {
    kind,
    constellations: constellations.map(({ name, satellites, signals }) => ({
      name,
      satellites: whole(satellites),
      signals: whole(signals),
    })),
    rate_hz: whole(rateHz),
    hours: whole(hours),
    rovers: whole(rovers),
    messages: cost.messages.map((message) => ({
      constellation: message.constellation,
      satellites: whole(message.satellites),
      cells: whole(message.cells),
      frame_bytes: whole(message.frameBytes),
    })),
    observation_bytes_per_s: fixed(cost.observationBytesPerS, 1),
    companion_bytes_per_s: fixed(cost.companionBytesPerS, 1),
    transport_bytes_per_s: fixed(cost.transportBytesPerS, 1),
    total_bytes_per_s: fixed(cost.totalBytesPerS, 1),
    observation_kbit_per_s: fixed(cost.observationKbitPerS, 2),
    total_kbit_per_s: fixed(cost.totalKbitPerS, 2),
    base_uplink_mb: fixed(cost.baseUplinkMb, 2),
    rover_downlink_mb: fixed(cost.roverDownlinkMb, 2),
    billed_mb: fixed(cost.billedMb, 2),
  };
}
