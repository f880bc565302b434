import type { HeightKind } from '../../records/points/point.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { PlannedTransform } from './plan-transform.js';

/** Whether a file has a column of each kind of height. */
export type HeightsOfFile = Readonly<Record<HeightKind, boolean>>;

/**
 * The heights that can be written of a file's points, orthometric first. A site has the kind alone that it was fitted
 * with, as the other would be at odds with it.
 */
export function heightsWritten(planned: PlannedTransform, file: HeightsOfFile): readonly HeightKind[] {
  const { from, to, end, heights } = planned;
  const known: HeightsOfFile = {
    orthometric: ofFile(planned, file, 'orthometric') || heights.gives === 'orthometric',
    ellipsoidal:
      to.kind !== 'geocentric' &&
      (ofFile(planned, file, 'ellipsoidal') || from.kind === 'geocentric' || heights.gives === 'ellipsoidal'),
  };
  const fitted = end?.at === 'out' ? (end.site?.heightKind ?? null) : null;
  return (['orthometric', 'ellipsoidal'] as const).filter(
    (kind) => known[kind] && (fitted === null || fitted === kind),
  );
}

/** Whether the file has heights of this kind that hold; in site coordinates only the fitted kind does. */
function ofFile({ end }: PlannedTransform, file: HeightsOfFile, kind: HeightKind): boolean {
  const fitted = end?.at === 'in' ? (end.site?.heightKind ?? null) : null;
  return file[kind] && (fitted === null || fitted === kind);
}

/** csv-missing-column for a file, `source`, that has heights, and none of the kind the site was fitted with. */
export function siteHeightProblem(planned: PlannedTransform, file: HeightsOfFile, source: string): Problem | null {
  const { end, heights } = planned;
  const kind = end?.site?.heightKind ?? null;
  if (end === null || kind === null || file[kind] || (end.at === 'out' && heights.gives === kind)) return null;
  if (!file[kind === 'orthometric' ? 'ellipsoidal' : 'orthometric']) return null;
  return errorProblem('csv-missing-column', {
    message: `the site was fitted with ${kind} heights and the file has none`,
    where: { source },
    expected: `${kind}_height_m`,
    hint:
      end.at === 'out'
        ? `give --to-height ${kind} with --geoid MODEL`
        : `heights in the coordinates of the site are ${kind} ones: map their column with --columns`,
  });
}

/** What is said of the heights of a file that goes onto a site or comes from one. */
export function siteHeightLines({ end, heights }: PlannedTransform, file: HeightsOfFile): readonly string[] {
  if (end?.site == null) return [];
  const { transform, heightKind } = end.site;
  const lines: string[] = [];
  if (transform.vertical === null && (file.orthometric || file.ellipsoidal))
    lines.push('heights are unchanged: the site was fitted in plan only');
  const other = heightKind === 'orthometric' ? 'ellipsoidal' : 'orthometric';
  if (heightKind !== null && file[other] && heights.gives !== heightKind)
    lines.push(`${other} heights are left out: the site was fitted with ${heightKind} ones`);
  return lines;
}
