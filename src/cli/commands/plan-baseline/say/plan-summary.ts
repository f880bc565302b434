import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { ALL_CONDITIONS } from '../../../../core/planning/prediction.js';
import type { PlanSetup, PlanTarget } from '../../../../tasks/plan/targets/plan-target.js';
import type { PlannedTarget, WayOut } from '../../../../tasks/plan/targets/predict-targets.js';
import { TIES_LISTED } from '../../../../tasks/plan/targets/predict-targets.js';
import type { PlanRange } from '../../../../tasks/plan/targets/range-finder.js';
import type { PlanEnd, PlanRun } from '../../../../tasks/plan/run-plan.js';
import { entryAt, present } from '../../../../records/present.js';

const km = (metres: number): string => `${formatFixed(metres / 1000, 1)} km`;
const m = (metres: number | null): string => (metres === null ? 'none' : `${formatFixed(metres, 3)} m`);

/** Ranges of more pairs of tolerances than this are counted only. */
const RANGES_SHOWN = 3;
const RANKS_SHOWN = 5;

/** Everything the closing account is made from. */
export interface PlanAccount {
  readonly setup: PlanSetup;
  readonly targets: readonly PlanTarget[];
  readonly run: Pick<PlanRun, 'placed' | 'ranges'>;
  readonly end: PlanEnd;
  readonly notes: readonly string[];
}

/** The account a plan ends with: where the base goes, how far it reaches, the verdicts, the data, what to mind. */
export function planSummary(account: PlanAccount): readonly string[] {
  return [
    ...siteLines(account),
    ...rangeLines(account),
    ...verdictLines(account),
    ...dayLines(account),
    ...streamLines(account),
    ...account.notes,
    ...account.end.cautions.map(({ text, source }) => `caution: ${text} (${source})`),
  ];
}

function siteLines({ run: { placed }, targets }: PlanAccount): readonly string[] {
  const { found, bases } = placed;
  const lines: string[] = [];
  for (const base of bases) {
    const height = base.ellipsoidalHeightM === null ? '' : `, h ${formatFixed(base.ellipsoidalHeightM, 1)} m`;
    lines.push(`base ${base.id}: ${formatFixed(base.latitudeDeg, 6)}, ${formatFixed(base.longitudeDeg, 6)}${height}`);
  }
  const percent = (ratio: number): string => `${formatFixed(100 * ratio, 1)} % of its range`;
  switch (found.kind) {
    case 'given':
      break;
    case 'free':
      lines.push(
        found.worstRatio === null
          ? `free place with the smallest largest distance, ${km(found.worstDistanceM)}; held there by ${found.support.join(', ')}`
          : `free place: the worst served point is at ${percent(found.worstRatio)}, no place can do better than ${percent(present(found.lowerBoundRatio, 'the least ratio of a place that has one'))}; held there by ${found.support.join(', ')}`,
      );
      break;
    case 'best':
      lines.push(
        'ranking of the candidates (largest distance over range; largest, 95th percentile and mean distance; points within range):',
      );
      for (const [index, rank] of found.ranking.slice(0, RANKS_SHOWN).entries()) {
        lines.push(
          `  ${String(index + 1)}. ${rank.candidate.id}: ${formatFixed(rank.worstRatio, 3)} at ${rank.worstPoints.slice(0, 3).join(', ')}; ${km(rank.worstDistanceM)}, ${km(rank.distance95M)}, ${km(rank.meanDistanceM)}; ${String(rank.servedCount)}`,
        );
      }
      if (found.ranking.length > RANKS_SHOWN) lines.push(`  and ${String(found.ranking.length - RANKS_SHOWN)} more`);
      break;
    case 'k':
      lines.push(
        `${String(bases.length)} bases: the worst served point is at ${percent(found.worstRatio)}, ${found.exact ? 'proved to be the least possible' : `by approximation; no choice can do better than ${percent(found.lowerBoundRatio)}`}`,
      );
      break;
    case 'fewest':
      lines.push(
        `${String(bases.length)} ${bases.length === 1 ? 'base serves' : 'bases serve'} every point that can be served, ${found.exact ? 'proved to be the fewest' : `by approximation; at least ${String(found.lowerBound)} are needed`}`,
      );
      if (found.unserved.length > 0) lines.push(`out of range of every candidate: ${some(found.unserved)}`);
  }
  if (placed.excluded.length > 0)
    lines.push(`left out: ${some(placed.excluded.map(({ id, reason }) => `${id} (${reason})`))}`);
  if (placed.withoutRange > 0 && found.kind !== 'given') {
    lines.push(
      placed.equalRanges
        ? 'no tolerance can be met at any distance, so only distances counted for the place'
        : `${String(placed.withoutRange)} points have a tolerance below what does not grow with distance: they had no say in the place`,
    );
  }
  for (const { baseA, baseB, targets: shared, enough } of placed.ties) {
    const ids = shared.slice(0, TIES_LISTED).map((index) => entryAt(targets, index).id);
    lines.push(
      `ties of ${baseA} and ${baseB}: ${ids.length === 0 ? 'none, so the two are not tied together' : `observe ${ids.join(', ')} from both${enough ? '' : ', which is fewer than three'}`}`,
    );
  }
  return lines;
}

function some(names: readonly string[]): string {
  return names.length <= 6 ? names.join(', ') : `${names.slice(0, 6).join(', ')} and ${String(names.length - 6)} more`;
}

function rangeLines({ run: { ranges }, setup }: PlanAccount): readonly string[] {
  const occupation =
    setup.prediction.epochCount === 1 ? 'a single epoch' : `one occupation of ${String(setup.prediction.epochCount)} s`;
  const lines = ranges.slice(0, RANGES_SHOWN).map((range) => {
    const reach = range.byConditions
      .map(({ conditions, range: found }) => `${conditions} ${reachText(found)}`)
      .join(', ');
    return `usable range for ${m(range.toleranceHorizontalM)} in plan and ${m(range.toleranceVerticalM)} in height (95 %, ${occupation}, equal heights): ${reach}`;
  });
  if (ranges.length > RANGES_SHOWN) lines.push(`and ${String(ranges.length - RANGES_SHOWN)} other pairs of tolerances`);
  return lines;
}

function reachText({ horizontal, vertical, rangeM, decidedBy }: PlanRange): string {
  const axis = decidedBy === 'vertical' ? 'height' : 'plan';
  const decisive = decidedBy === 'vertical' ? vertical : horizontal;
  if (decisive?.status === 'tolerance-below-constant')
    return `none (the tolerance in ${axis} is below the constant term)`;
  if (decisive?.status === 'unlimited') return 'unlimited';
  return horizontal !== null && vertical !== null ? `${km(rangeM)} (${axis} decides)` : km(rangeM);
}

const WAYS: Readonly<Record<WayOut, string>> = {
  none: 'nothing to change',
  longer: 'a longer occupation is enough',
  repeat: 'repeats apart in time are enough',
  'nearer-base': 'a nearer base is needed',
  tolerance: 'the tolerance cannot be met at any distance',
};

function verdictLines({ end: { totals }, setup, run: { placed } }: PlanAccount): readonly string[] {
  const all = totals.targets();
  const per = ALL_CONDITIONS.map((conditions) => `${conditions} ${String(totals.withinBy.get(conditions) ?? 0)}`).join(
    ', ',
  );
  const places = all - totals.workPoints();
  const lines = [
    `${String(all)} ${all === 1 ? 'place' : 'places'}${places === 0 ? '' : ` (${String(totals.workPoints())} points, ${String(places)} on lines and in areas)`}: ${String(all - totals.outside())} within, ${String(totals.outside())} outside under ${setup.conditions} conditions; within by conditions: ${per}`,
  ];
  for (const base of placed.bases) {
    const own = totals.bases.get(base.id);
    if (own === undefined) lines.push(`base ${base.id}: serves no point`);
    else
      lines.push(
        `base ${base.id}: ${String(own.targets)} ${own.targets === 1 ? 'place' : 'places'}, ${String(own.outside)} outside; farthest ${km(own.farthestM)} (${own.farthestId})`,
      );
  }
  if (totals.outside() > 0) {
    const ways = [...totals.ways].sort(([, a], [, b]) => b - a).map(([way, count]) => `${String(count)}: ${WAYS[way]}`);
    lines.push(`what would have to change: ${ways.join('; ')}`);
    for (const planned of totals.worst()) lines.push(`  ${worstLine(planned)}`);
  }
  if (totals.withoutHeight() > 0)
    lines.push(
      `${String(totals.withoutHeight())} of ${String(all)} ${totals.withoutHeight() === 1 ? 'has' : 'have'} no height difference from the base: the height terms are left out`,
    );
  if (totals.reobserve() > 0)
    lines.push(
      `a base wrong by ${m(setup.baseErrorM)} would leave more than a third of the tolerance at ${String(totals.reobserve())} of them, whatever is done later`,
    );
  return lines;
}

function worstLine({ target, at, prediction, remedy, wayOut }: PlannedTarget): string {
  const { occupations, epochs } = remedy.occupations.chosen;
  const plan =
    remedy.occupations.status === 'reached'
      ? `${String(occupations)} x ${String(epochs)} epochs would do`
      : WAYS[wayOut];
  const axis = (word: string, valueM: number, limitM: number | null): string =>
    limitM === null ? '' : `, ${word} ${m(valueM)} of ${m(limitM)}`;
  return `${target.id}: ${km(prediction.baselineM)}${axis('circle', at.uncertainty.circle95M, target.toleranceHorizontalM)}${axis('height', at.uncertainty.vertical95M, target.toleranceVerticalM)}; ${plan}`;
}

function dayLines({ end: { days } }: PlanAccount): readonly string[] {
  // No day was asked for, and none is told of.
  return (days ?? []).map(
    ({ baseId, timetable }) =>
      `day of base ${baseId}: ${String(timetable.visits.length)} visits, ${km(timetable.driveM)} of driving as reckoned, ${String(timetable.leftOut.length)} occupations left out`,
  );
}

function streamLines({ end: { stream }, run: { placed } }: PlanAccount): readonly string[] {
  if (stream === null) return [];
  const { cost, kind, constellations, rateHz, hours, rovers } = stream;
  const sky = constellations
    .map(({ name, satellites, signals }) => `${name} ${String(satellites)}x${String(signals)}`)
    .join(', ');
  const each = placed.bases.length > 1 ? ' for each base' : '';
  return [
    `correction stream ${kind}, ${sky}, ${String(rateHz)} Hz${each}: ${formatFixed(cost.observationBytesPerS, 0)} B/s of observations, with companion messages and transport ${formatFixed(cost.totalBytesPerS, 0)} B/s or ${formatFixed(cost.totalKbitPerS, 1)} kbit/s`,
    `  in ${String(hours)} h: base uplink ${formatFixed(cost.baseUplinkMb, 1)} MB, each of ${String(rovers)} rover downlinks ${formatFixed(cost.roverDownlinkMb, 1)} MB, billed ${formatFixed(cost.billedMb, 1)} MB in all${each}`,
  ];
}
