import { degreesToRadians } from '../../../core/numeric/angle-units.js';
import type { SiteAxes } from '../../../core/adjustment/site/site-axes.js';
import type { SiteDocument, SiteQuality } from '../../../core/adjustment/site/site-document.js';
import type { PlanePoint } from '../../../core/adjustment/convex-hull.js';
import { failure, failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { jsonMembers } from '../json/json-members.js';
import type { JsonMembers } from '../json/json-members.js';
import { parseJson } from '../json/parse-json.js';
import { readSurface } from './site-surface-read.js';
import { SITE_SCHEMA, SITE_VERSION } from './site-write.js';

/**
 * Reads a site file.
 * Given: its text; its name for people. Problems: config-syntax where it is no JSON; record-schema, with the member,
 * where it is another kind of document, of a later version, or not whole. The inverse is `siteText`.
 */
export function readSite(text: string, source: string): Outcome<SiteDocument> {
  const json = parseJson(text, source);
  if (!json.ok) return json;
  const problems: Problem[] = [];
  const top = jsonMembers(json.value, source, '', problems);
  const schema = top.text('schema');
  const version = top.number('version');
  if (schema !== SITE_SCHEMA || version !== SITE_VERSION) {
    return failure(
      errorProblem('record-schema', {
        message: `is not a site file of version ${SITE_VERSION}${schema === '' ? '' : `: it says ${schema}, version ${version}`}`,
        where: { source },
        expected: `${SITE_SCHEMA}, version ${SITE_VERSION}`,
        hint: 'give the file that fit-site wrote: fit-site POINTS --control FILE -o site.json',
      }),
    );
  }
  const document = read(top);
  return problems.length > 0 ? failureOf(problems) : success(document);
}

function read(top: JsonMembers): SiteDocument {
  const source = top.object('source');
  const horizontal = top.object('horizontal');
  const vertical = top.objectOrNull('vertical');
  const scale = horizontal.number('scale');
  if (!(scale > 0)) horizontal.refuse('scale', 'above 0');
  const hull = hullOf(top);
  return {
    toolVersion: top.text('tool_version'),
    title: top.text('title'),
    system: source.text('system'),
    systemName: source.text('name'),
    sourceAxes: axes(source),
    siteAxes: axes(top.object('site')),
    transform: {
      horizontal: {
        sourceOrigin: place(horizontal.object('source_origin')),
        targetOrigin: place(horizontal.object('site_origin')),
        scale,
        rotationRad: degreesToRadians(horizontal.number('rotation_deg')),
      },
      horizontalCovariance: horizontal.numbers('covariance', 16),
      ...verticalOf(vertical),
      hull,
      verticalHull: vertical === null ? null : hullOf(vertical),
    },
    scaleIsFree: horizontal.text('scale_is') === 'fitted',
    heightKind: vertical === null ? null : heightKind(vertical),
    geoid: geoid(vertical),
    bufferM: top.number('buffer_m'),
    horizontalQuality: quality(horizontal.object('quality')),
    verticalQuality: verticalQuality(vertical),
    statements: top.texts('statements'),
    control: top.objects('control').map((point) => ({
      pointId: point.text('point_id'),
      role: point.text('role') === 'check' ? 'check' : 'fit',
      residualEastM: point.numberOrNull('residual_east_m'),
      residualNorthM: point.numberOrNull('residual_north_m'),
      residualHeightM: point.numberOrNull('residual_height_m'),
    })),
    inputs: top.objects('inputs').map((input) => ({
      role: input.text('role'),
      name: input.text('name'),
      bytes: input.number('bytes'),
      sha256: input.text('sha256'),
    })),
  };
}

/** The heights of a site: a plane, or the surface that a member `kind` says it is. */
function verticalOf(vertical: JsonMembers | null): Pick<SiteDocument['transform'], 'vertical' | 'verticalCovariance'> {
  if (vertical === null) return { vertical: null, verticalCovariance: null };
  const kind = vertical.textIfAny('kind');
  if (kind === 'surface') return { vertical: readSurface(vertical), verticalCovariance: null };
  if (kind !== null) vertical.refuse('kind', 'surface, or absent for a plane');
  return {
    vertical: {
      origin: place(vertical.object('origin')),
      offsetM: vertical.number('offset_m'),
      slopeEast: vertical.number('slope_east'),
      slopeNorth: vertical.number('slope_north'),
    },
    verticalCovariance: vertical.numbers('covariance', 9),
  };
}

function hullOf(members: JsonMembers): readonly PlanePoint[] {
  const hull = members.objects('hull').map(place);
  if (hull.length === 0) members.refuse('hull', 'one place or more');
  return hull;
}

function heightKind(vertical: JsonMembers): 'orthometric' | 'ellipsoidal' {
  const word = vertical.text('height_kind');
  if (word === 'ellipsoidal' || word === 'orthometric') return word;
  vertical.refuse('height_kind', 'orthometric or ellipsoidal');
  return 'orthometric';
}

function geoid(vertical: JsonMembers | null): SiteDocument['geoid'] {
  const found = vertical?.objectOrNull('geoid') ?? null;
  return found === null ? null : { name: found.text('name'), sha256: found.textOrNull('sha256') };
}

function verticalQuality(vertical: JsonMembers | null): SiteQuality | null {
  const found = vertical?.objectOrNull('quality') ?? null;
  return found === null ? null : quality(found);
}

function quality(members: JsonMembers): SiteQuality {
  return {
    pointsFitted: members.number('points_fitted'),
    redundancy: members.number('redundancy'),
    varianceFactor: members.numberOrNull('variance_factor'),
    sigmasAreStated: members.text('sigmas') === 'stated',
    factor95: members.numberOrNull('factor_95'),
  };
}

function place(members: JsonMembers): PlanePoint {
  return { eastM: members.number('east_m'), northM: members.number('north_m') };
}

function axes(members: JsonMembers): SiteAxes {
  const columns = members.texts('columns');
  const metresPerUnit = members.number('metres_per_unit');
  const [first = '', second = ''] = columns;
  const isPair = first.startsWith('easting_')
    ? second.startsWith('northing_')
    : first.startsWith('westing_') && (second.startsWith('southing_') || second.startsWith('northing_'));
  if (columns.length !== 2 || !isPair)
    members.refuse('columns', 'a pair such as easting_m, northing_m or westing_m, southing_m');
  if (!(metresPerUnit > 0)) members.refuse('metres_per_unit', 'above 0');
  return { columns: [first, second], metresPerUnit };
}
