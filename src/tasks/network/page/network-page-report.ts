import type { BlockLimits } from '../../../core/network/evidence/block-limits.js';
import { isMeasured } from '../../../core/network/equations/equation-origins.js';
import { compareNaturally } from '../../../core/numeric/text/compare-naturally.js';
import { positionalUncertainty } from '../../../core/observation/uncertainty/positional-uncertainty.js';
import { entryAt, present } from '../../../records/present.js';
import type { NetworkObservationResult, NetworkPair, NetworkPoint } from '../../../records/reports/network-report.js';
import type {
  NetworkPageReport,
  PlottedLine,
  PlottedResidual,
  PlottedStation,
  WorstOfNetwork,
} from '../../../records/reports/network-page-report.js';
import type { PageFacts } from '../../../records/reports/parts/page-facts.js';
import { keepMostNeeded } from '../../repeats/keep-most-needed.js';
import type { NetworkPlaces } from '../input/assemble-network.js';
import { distortionsOf, endsOf, MOST_ROWS, removedOf } from './page-lists.js';
import { nextSteps } from '../next-steps.js';
import { pullSentence } from '../pull-sentence.js';
import { planPlaces } from './plan-places.js';
import type { PlanPlaces } from './plan-places.js';
import type { NetworkResults } from '../network-results.js';

const MOST_RELATIVE = 60;

/** How much an answer asks for a place on the page. */
const NEED = { within: 0, review: 1, no: 2 } as const;

/** What the page is of is never left out. */
const OWN = 3;

function isOf(onlyPoint: string | undefined, { fromId, toId }: NetworkObservationResult): boolean {
  return onlyPoint !== undefined && (fromId === onlyPoint || toId === onlyPoint);
}

/** An adjusted network as its page shows it. */
export function networkPageReport(
  results: NetworkResults,
  places: NetworkPlaces,
  pairs: readonly NetworkPair[],
  about: Pick<NetworkPageReport, keyof PageFacts | 'title' | 'surveyed'>,
): NetworkPageReport {
  const { adjusted, points, observations, control, systems } = results;
  const [{ free }, { grid }] = [adjusted, systems];
  const plan = planPlaces(points, systems);
  const residuals = residualsOf(results);
  const kept = keepMostNeeded<PlottedResidual>(MOST_ROWS);
  for (const residual of residuals) kept.add(residual.isFoul ? 1 : 0, residual);
  const rows = keepMostNeeded<NetworkObservationResult>(MOST_ROWS);
  const { onlyPoint } = about;
  for (const row of observations) rows.add(isOf(onlyPoint, row) ? OWN : NEED[row.verdict], row);
  return {
    ...about,
    answer: results.answer,
    reasons: results.reasons,
    systemName: grid === null ? null : `${grid.code === null ? '' : `${grid.code} `}${grid.name}`,
    axes: plan.axes,
    datum: adjusted.datum,
    anchors: adjusted.anchors.map((index) => entryAt(adjusted.network.control, index).id),
    counts: {
      stations: points.length,
      observations: observations.length,
      control: control.length,
      unchecked: points.filter(({ isChecked }) => !isChecked).length,
      failed: observations.filter(({ verdict }) => verdict === 'no').length,
      excluded: adjusted.excluded.length + adjusted.excludedControl.length,
    },
    freeTest: adjusted.freeTest,
    finalTest: adjusted.finalTest,
    scale: adjusted.scale,
    worst: worstOf(residuals, free.limits),
    worstControl: worstControlOf(control),
    ...openOf(results),
    ...stationsOf(results, plan, onlyPoint),
    relative: relativeOf(results, pairs, plan),
    arePairsAsked: pairs.length > 0,
    lines: linesOf(results, plan),
    residuals: kept.items(),
    residualCount: residuals.length,
    level: free.limits.level,
    observations: [...rows.items()].sort(byNeed).map((row) => {
      const { source, line } = entryAt(places[row.kind], row.index);
      return { row, where: `${lastName(source)}:${String(line)}` };
    }),
    observationCount: observations.length,
    control: control.toSorted((a, b) => compareNaturally(a.id, b.id)),
    removed: removedOf(results),
    parameters: results.parameters.slice(0, MOST_ROWS),
    distortions: distortionsOf(results),
    components: results.components,
    bases: results.bases,
  };
}

/** What is open, and what control does to it. */
function openOf(results: NetworkResults): Pick<NetworkPageReport, 'isUntied' | 'next' | 'pulled'> {
  return { isUntied: results.adjusted.control === null, next: nextSteps(results), pulled: pullSentence(results) };
}

/** A file without its folders: the table of files has it so too. */
function lastName(path: string): string {
  return path.slice(Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\')) + 1);
}

function byNeed(a: NetworkObservationResult, b: NetworkObservationResult): number {
  return NEED[b.verdict] - NEED[a.verdict] || compareNaturally(a.fromId, b.fromId) || compareNaturally(a.toId, b.toId);
}

const AXES = ['X', 'Y', 'Z'] as const;

/** Of every number that others check, in the order of the equations. */
function residualsOf({ adjusted: { free, network }, observations }: NetworkResults): readonly PlottedResidual[] {
  const foul = new Set(
    observations.flatMap(({ kind, index, reasons }) =>
      reasons.includes('network-observation') ? [`${kind} ${String(index)}`] : [],
    ),
  );
  const { origins } = free.solved.built;
  return Array.from({ length: origins.length }, (_, at) => at).flatMap((at): readonly PlottedResidual[] => {
    const { kind, index } = origins.of(at);
    if (!isMeasured(kind)) return [];
    const { fromId, toId } = endsOf(network, kind, index);
    return free.tests.of(at).w.flatMap((w, row, all): readonly PlottedResidual[] =>
      w === null
        ? []
        : [
            {
              name: `${fromId} to ${toId}`,
              axis: all.length === 3 ? entryAt(AXES, row) : kind === 'levelled' ? 'height' : 'distance',
              w,
              isFoul: foul.has(`${kind} ${String(index)}`),
            },
          ],
    );
  });
}

/** The residual that stands out most; of an observation that fails, where one does. */
function worstOf(residuals: readonly PlottedResidual[], limits: BlockLimits): WorstOfNetwork | null {
  const blockLimit = limits.block(1);
  const isAny = residuals.some(({ isFoul }) => isFoul);
  let worst: PlottedResidual | null = null;
  for (const residual of residuals)
    if (residual.isFoul === isAny && (worst === null || Math.abs(residual.w) > Math.abs(worst.w))) worst = residual;
  return worst === null
    ? null
    : {
        what: worst.name,
        axis: worst.axis,
        value: worst.w,
        limit: blockLimit === null ? null : Math.sqrt(blockLimit),
        sigmaFactor: limits.variance === null ? null : Math.sqrt(limits.variance),
        isFoul: worst.isFoul,
      };
}

const LOCAL_AXES = ['east', 'north', 'up'] as const;

/** The control that fails by most, and where it is farthest off. */
function worstControlOf(control: NetworkResults['control']): NetworkPageReport['worstControl'] {
  let worst = null as NetworkPageReport['worstControl'];
  for (const { id, differenceM, test, limit, verdict } of control) {
    if (verdict !== 'no' || test === null || limit === null || (worst !== null && worst.test >= test)) continue;
    for (const [axis, value] of differenceM.entries())
      if (value !== null && (worst?.id !== id || Math.abs(value) > Math.abs(worst.differenceM)))
        worst = { id, axis: entryAt(LOCAL_AXES, axis), differenceM: value, test, limit };
  }
  return worst;
}

function stationsOf(
  { points, adjusted }: NetworkResults,
  plan: PlanPlaces,
  onlyPoint: string | undefined,
): Pick<NetworkPageReport, 'stations' | 'stationCount'> {
  const held = new Set(adjusted.held.map((index) => entryAt(adjusted.network.control, index).id));
  const kept = keepMostNeeded<NetworkPoint>(MOST_ROWS);
  for (const point of points) kept.add(point.id === onlyPoint ? OWN : NEED[point.verdict], point);
  const stations = [...kept.items()]
    .sort((a, b) => NEED[b.verdict] - NEED[a.verdict] || compareNaturally(a.id, b.id))
    .map((point): PlottedStation => {
      const place = point.geodetic === null ? null : plan.placeOf(point.geodetic);
      const { summary } = point;
      return {
        point,
        isControl: held.has(point.id),
        ellipse:
          place === null || summary === null
            ? null
            : { place, summary, bearingDeg: summary.ellipseAzimuthDeg - plan.turnAt(point) },
      };
    });
  return { stations, stationCount: points.length };
}

/** About the middles: of the pairs, or of stations and the control nearest to them. */
function relativeOf(
  { points, adjusted, relations }: NetworkResults,
  pairs: readonly NetworkPair[],
  plan: PlanPlaces,
): NetworkPageReport['relative'] {
  const { indexOf } = adjusted.final.solved.list;
  const pointOf = (id: string): NetworkPoint | null => {
    const index = indexOf.get(id);
    return index === undefined ? null : entryAt(points, index);
  };
  const wanted =
    pairs.length > 0
      ? pairs.slice(0, MOST_RELATIVE)
      : points.flatMap(({ id, nearestControl }) =>
          nearestControl === null ? [] : [{ fromId: id, toId: nearestControl, summary: null }],
        );
  return wanted.slice(0, MOST_RELATIVE).flatMap(({ fromId, toId, summary }): NetworkPageReport['relative'] => {
    const [from, to] = [pointOf(fromId), pointOf(toId)];
    if (from?.geodetic == null || to?.geodetic == null || from.position === null || to.position === null) return [];
    const [a, b] = [plan.placeOf(from.geodetic), plan.placeOf(to.geodetic)];
    const relative = relations.between(indexOf.get(fromId) ?? 0, indexOf.get(toId) ?? 0);
    if (a === null || b === null || relative === null) return [];
    const own = summary ?? positionalUncertainty(relative, null);
    const [p, q] = [from.position, to.position];
    return [
      {
        fromId,
        toId,
        place: { first: (a.first + b.first) / 2, second: (a.second + b.second) / 2 },
        summary: own,
        bearingDeg: own.ellipseAzimuthDeg - (plan.turnAt(from) + plan.turnAt(to)) / 2,
        distanceM: Math.hypot(q.xM - p.xM, q.yM - p.yM, q.zM - p.zM),
      },
    ];
  });
}

function linesOf({ observations, points, adjusted }: NetworkResults, plan: PlanPlaces): readonly PlottedLine[] {
  const { indexOf } = adjusted.final.solved.list;
  const held = new Set(adjusted.held.map((index) => entryAt(adjusted.network.control, index).id));
  const degrees = new Map<string, number>();
  // The first line of a station is its first.
  for (const id of observations.flatMap(({ fromId, toId }) => [fromId, toId]))
    degrees.set(id, (degrees.get(id) ?? 0) + 1);
  const kept = keepMostNeeded<PlottedLine>(MOST_ROWS);
  for (const { fromId, toId, verdict } of observations) {
    if (!kept.wants(NEED[verdict])) continue;
    const [from, to] = [fromId, toId].map((id) => {
      const index = indexOf.get(id);
      const geodetic = index === undefined ? null : entryAt(points, index).geodetic;
      return geodetic === null ? null : plan.placeOf(geodetic);
    });
    // A base that is control ties all of its lines: the end that fewer lines meet says whether this one is a tie.
    const isFewer =
      present(degrees.get(fromId), 'lines of a station') < present(degrees.get(toId), 'lines of a station');
    const meetsControl = held.has(isFewer ? fromId : toId);
    if (from != null && to != null) kept.add(NEED[verdict], { from, to, answer: verdict, meetsControl });
  }
  return kept.items();
}
