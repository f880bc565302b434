import type { SiteAxes } from '../../core/adjustment/site/site-axes.js';
import type { SiteDocument } from '../../core/adjustment/site/site-document.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import { pushAll } from '../../core/numeric/push-all.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Station } from '../../records/points/point-join.js';
import type { PointRow } from '../../records/points/point-row.js';
import { locateProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { FileDigest } from '../../records/runs/provenance.js';
import type { SiteLimits, SiteScale, SiteVertical } from '../../records/reports/parts/site-fit.js';
import type { RunAnswer } from '../../records/runs/run-answer.js';
import type { BaseSettings } from '../../records/session.js';
import { fitSite } from './fit-site.js';
import type { FittedSite } from './fit-site.js';
import { judgeSite, withoutConclusions } from './judge-site.js';
import type { JudgedSite } from './judge-site.js';
import { pairControl } from './control/pair-control.js';
import type { ControlPair } from './control/pair-control.js';
import { sharedBases } from './control/shared-base.js';
import { siteAnswer } from './site-answer.js';
import { BUFFER_PART, siteDocumentOf, siteTransformOf } from './site-document-of.js';
import type { SiteAbout } from './site-document-of.js';
import { siteStatements } from './site-statements.js';
import type { SiteStatements } from './site-statements.js';
import { siteDoubts } from './doubts/site-doubts.js';
import { heightSystemProblems } from './surface/height-system.js';
import { SURFACE_DEFAULTS } from './surface/surface-settings.js';
import type { SurfaceSettings } from './surface/surface-settings.js';
import { withUncheckedControl } from './control/unchecked-control.js';

/** Rows of a file, with its name, size and digest. */
export interface RowsOfFile {
  readonly rows: readonly PointRow[];
  readonly digest: FileDigest;
}

/** What a site is fitted from, and how. */
export interface SiteRequest {
  readonly control: RowsOfFile;
  /** The measured points, with their stations in the same order. */
  readonly measured: RowsOfFile & { readonly stations: readonly Station[]; readonly rowsSkipped: number };
  readonly grid: GridSystem;
  /** The grid system as it was named. */
  readonly systemText: string;
  /** The geoid that heights were carried over with; null: none. */
  readonly geoid: GeoidModel | null;
  /** The bases the points were measured from, as a session states them. */
  readonly bases: readonly BaseSettings[];
  /** Axes of the site; null: those of the grid. */
  readonly siteAxes: SiteAxes | null;
  readonly scale: SiteScale;
  /** Null: a plane where the control has heights. */
  readonly vertical: SiteVertical | null;
  /** How a surface is made, with `vertical` surface; absent: the trend that leaving out chooses and the default signal. */
  readonly surface?: SurfaceSettings;
  /** How far the site may be used outside its control, metres; null: a part of the radius of the control. */
  readonly limits: SiteLimits & { readonly bufferM: number | null };
  readonly allowPoorSpread: boolean;
  readonly title: string;
  readonly toolVersion: string;
}

/** A site, step by step. */
export interface SiteRun {
  readonly siteAxes: SiteAxes;
  readonly vertical: SiteVertical;
  readonly pairs: readonly ControlPair[];
  readonly fitted: FittedSite;
  readonly said: SiteStatements;
  readonly judged: JudgedSite;
  readonly site: SiteDocument;
  readonly answer: RunAnswer;
}

/** The axes of a grid as those of a site. */
export function axesOfGrid({ axes: [first, second] }: GridSystem): SiteAxes {
  return { columns: [first.columnName, second.columnName], metresPerUnit: first.metresPerUnit };
}

/**
 * Fits a site to control and judges it: pairs the control, fits, says what the fit points to, tests every point, and makes the
 * document.
 *
 * Given: see `SiteRequest`. Returned: what each step gave. Problems: those of `pairControl`, `fitSite` and `siteStatements`.
 * Warnings: those and `siteDoubts`.
 *
 * @example
 * // The site of the example: its control is turned and moved, and fits to a few millimetres.
 * const session = await readSessionFile('session.toml');
 * const setup = (await loadStationSetup(session.value)).value;
 * const axes = { columns: ['easting_m', 'northing_m'], metresPerUnit: 1 };
 * const control = (await readSiteControl('../quillback-pan-site/control.csv', axes)).value;
 * const measured = (await readStationsFile('../quillback-pan-site/points.csv', setup)).value;
 * const limits = { horizontalM: null, verticalM: null, bufferM: null };
 * const asked = { siteAxes: axes, scale: { kind: 'free' }, vertical: null, limits, allowPoorSpread: false, title: '' };
 * const run = runSite({ control, measured, ...setup, bases: [], ...asked, toolVersion: VERSION }).value;
 * [run.pairs.length, run.answer.answer]; // [8, 'within']
 */
export function runSite(request: SiteRequest): Outcome<SiteRun> {
  const { control, measured, grid, limits } = request;
  const sourceAxes = axesOfGrid(grid);
  const siteAxes = request.siteAxes ?? sourceAxes;
  const heightKind = heightKindOf(control.rows);
  const vertical = request.vertical ?? (heightKind === null ? 'none' : 'plane');
  const found: Problem[] = [];
  const pairs = pairControl(
    control.rows,
    measured.stations.map((station, index) => ({ station, row: measured.rows[index]! })),
    {
      grid,
      sourceAxes,
      siteAxes,
      heightKind: vertical === 'none' ? null : heightKind,
      sharedOf: sharedBases(request.bases),
    },
    { control: control.digest.name, points: measured.digest.name },
  );
  if (!pairs.ok) return pairs;
  pushAll(found, pairs.problems);
  if (vertical === 'surface' && heightKind !== null) {
    const fitted = control.rows.filter(({ role }) => role !== 'check');
    const strange = heightSystemProblems(fitted, pairs.value, heightKind, control.digest.name);
    if (strange.length > 0) return failureOf([...found, ...strange]);
  }
  const { scale, allowPoorSpread } = request;
  const surface = request.surface ?? SURFACE_DEFAULTS;
  const { ellipsoid } = grid.base;
  const fitting = fitSite(pairs.value, { ellipsoid, scale, vertical, surface, allowPoorSpread });
  if (!fitting.ok) return failureOf([...found, ...fitting.problems]);
  pushAll(found, fitting.problems);
  const fitted = fitting.value;
  const said = siteStatements(fitted, grid);
  if (said.problems.some(({ severity }) => severity === 'error'))
    return failureOf([
      ...found,
      ...said.problems.map((problem) => locateProblem(problem, { source: control.digest.name })),
    ]);
  const transform = siteTransformOf(fitted);
  const tested = withUncheckedControl(judgeSite(fitted, transform, pairs.value, limits), pairs.value);
  // Names are not exchanged.
  const judged = said.isUnusable ? withoutConclusions(tested, fitted.exchange?.cycles.flat() ?? []) : tested;
  const about = aboutSite(request, { sourceAxes, siteAxes, heightKind }, fitted);
  const site = siteDocumentOf(fitted, transform, judged.rows, said.statements, about);
  const doubts = siteDoubts(fitted, judged, said, control.digest.name);
  const warnings = [...found, ...said.problems, ...doubts.warnings];
  const answer = siteAnswer(judged.rows, {
    isSuspect: doubts.isStrained || said.problems.some(({ code }) => code === 'site-suspect'),
    isDoubtful: warnings.some(({ code }) => code === 'site-unchecked' || code === 'site-curved'),
    rowsSkipped: measured.rowsSkipped,
  });
  return success({ siteAxes, vertical, pairs: pairs.value, fitted, said, judged, site, answer }, warnings);
}

/** What the document says besides the fit. */
function aboutSite(
  { toolVersion, title, systemText, grid, geoid, limits, measured, control }: SiteRequest,
  axes: Pick<SiteAbout, 'sourceAxes' | 'siteAxes' | 'heightKind'>,
  { spread }: FittedSite,
): SiteAbout {
  return {
    ...axes,
    toolVersion,
    title,
    system: systemText,
    systemName: grid.name,
    geoid: geoid === null ? null : { name: geoid.grid.name, sha256: geoid.grid.sha256 },
    bufferM: limits.bufferM ?? BUFFER_PART * spread.radiusM,
    inputs: [
      { role: 'points', ...measured.digest },
      { role: 'control', ...control.digest },
    ],
  };
}

/** The kind of height that control has; null: none. */
function heightKindOf(rows: readonly PointRow[]): 'orthometric' | 'ellipsoidal' | null {
  if (rows.some((row) => row.orthometricHeightM !== null)) return 'orthometric';
  return rows.some((row) => row.ellipsoidalHeightM !== null) ? 'ellipsoidal' : null;
}
