import type { ReducedPoint } from '../../../records/points/reduced-point.js';
import { shortText } from '../../page/words/visible-text.js';
import { groundLength } from './plan-frame.js';
import type { PlanView } from './plan-view.js';
import { placeLabels, placeOnLine, roomOf } from './place-labels.js';
import type { PlacedLabel, WantedLabel } from './place-labels.js';
import type { Place } from '../shapes.js';
import type { MarkClass } from '../thinned.js';

const MOST_LABELS = 120;

/** A point, and where it stands on the drawing. */
export interface DrawnPoint {
  readonly point: ReducedPoint;
  readonly at: Place;
}

/** A line of equal distance from a base. */
export interface DrawnRing {
  readonly radiusM: number;
  readonly drawn: readonly Place[];
  readonly isClosed: boolean;
}

/** What takes room on a plan, and what of it wants a name. */
interface PlanMarks {
  readonly few: readonly DrawnPoint[];
  readonly shown: readonly DrawnPoint[];
  readonly stations: readonly { readonly id: string; readonly at: Place }[];
  readonly rings: readonly DrawnRing[];
  readonly ellipsePixelsPerMetre: number;
}

/** Names of bases and points where there is room, then the lengths of rings along their lines. */
export function wordsOf(
  { few, shown, stations, rings, ellipsePixelsPerMetre }: PlanMarks,
  view: PlanView,
): { readonly labels: readonly PlacedLabel[]; readonly ringWords: readonly PlacedLabel[] } {
  const wanted: WantedLabel[] = [
    ...stations
      .filter((base) => view.isInside(base.at))
      .map((base) => ({ at: base.at, text: shortText(base.id, 14), clear: 7 })),
    // A base that was measured as a point has its name once.
    ...uniqueNames(
      mostNeedful(few).filter(
        ({ point, at: place }) => !stations.some((base) => isNamedBy(base, point.pointId, place)),
      ),
      ellipsePixelsPerMetre,
    ).slice(0, MOST_LABELS),
  ];
  const ellipses = few.map(({ point, at: place }) => ({
    ...place,
    // Without an ellipse there is none to make room for; without a grid, north is true.
    clear: (point.summary?.ellipseMajor95M ?? 0) * ellipsePixelsPerMetre,
  }));
  const labels = placeLabels(
    wanted,
    // Signs of one place stand side by side, where none was measured.
    [...[...shown, ...few].map((drawn) => drawn.at), ...stations.map((base) => ({ ...base.at, clear: 8 }))],
    view.box,
    ellipses,
  );
  const taken = [...ellipses, ...shown.map((drawn) => drawn.at), ...labels.map(roomOf)];
  const ringWords = rings.flatMap(({ drawn, radiusM }) => {
    const placed = placeOnLine(groundLength(radiusM), drawn, taken, view.box);
    if (placed !== null) taken.push(roomOf(placed));
    return placed ?? [];
  });
  return { labels, ringWords };
}

const SAME_PLACE_PX = 12;

/** Whether the name of a base, as it stands on the plan, is that of a point at its place. */
function isNamedBy(base: PlanMarks['stations'][number], pointId: string, { x, y }: Place): boolean {
  return base.id === pointId && Math.hypot(base.at.x - x, base.at.y - y) < SAME_PLACE_PX;
}

/** Accepted points may be left out of many, those for review not. */
export function classOf({ point }: DrawnPoint): MarkClass {
  return point.verdict === 'accepted' ? 'mark' : point.verdict === 'rejected' ? 'bad' : 'doubt';
}

/** Those for review first, of each kind the least sure. */
function mostNeedful(drawn: readonly DrawnPoint[]): readonly DrawnPoint[] {
  const order = { bad: 0, doubt: 1, mark: 2 };
  // What has no figure is named last of its kind.
  const size = ({ point }: DrawnPoint): number => point.summary?.ellipseMajor95M ?? 0;
  return [...drawn].sort((a, b) => order[classOf(a)] - order[classOf(b)] || size(b) - size(a));
}

/** A point that was occupied several times needs its name once. */
function uniqueNames(drawn: readonly DrawnPoint[], pixelsPerMetre: number): WantedLabel[] {
  const seen = new Set<string>();
  return drawn.flatMap(({ point, at: place }) => {
    if (seen.has(point.pointId)) return [];
    seen.add(point.pointId);
    return [
      {
        at: place,
        text: shortText(point.pointId, 14),
        // Without an ellipse there is none to make room for; without a grid, north is true.
        clear: Math.max(4, (point.summary?.ellipseMajor95M ?? 0) * pixelsPerMetre),
      },
    ];
  });
}
