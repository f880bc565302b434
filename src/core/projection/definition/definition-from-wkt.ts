import { failure, success, type Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { SystemDefinition } from './system-definition.js';
import { ownEntry } from '../../numeric/own-entry.js';
import { present } from '../../../records/present.js';
import { parseWkt, wktChild, wktCode } from './wkt-nodes.js';
import type { WktNode } from './wkt-nodes.js';

/** How a parameter is written in a PROJ string: by its EPSG code, degrees or metres or a number. */
type Written = Readonly<Record<number, readonly [parameter: string, unit: 'angle' | 'length' | 'scale']>>;

const NATURAL: Written = {
  8801: ['lat_0', 'angle'],
  8802: ['lon_0', 'angle'],
  8805: ['k_0', 'scale'],
  8806: ['x_0', 'length'],
  8807: ['y_0', 'length'],
};

/** Methods of a conversion by their EPSG code, each as PROJ writes it. Reference: IOGP-373-7-2; PROJ-DOC, the page of each projection. */
const METHODS: Readonly<Record<number, { readonly proj: string; readonly written: Written }>> = {
  9807: { proj: 'tmerc', written: NATURAL },
  9804: { proj: 'merc', written: NATURAL },
  9809: { proj: 'sterea', written: NATURAL },
  9801: { proj: 'lcc', written: NATURAL },
  9802: {
    proj: 'lcc',
    written: {
      8821: ['lat_0', 'angle'],
      8822: ['lon_0', 'angle'],
      8823: ['lat_1', 'angle'],
      8824: ['lat_2', 'angle'],
      8826: ['x_0', 'length'],
      8827: ['y_0', 'length'],
    },
  },
  9815: {
    proj: 'omerc',
    written: {
      8811: ['lat_0', 'angle'],
      8812: ['lonc', 'angle'],
      8813: ['alpha', 'angle'],
      8814: ['gamma', 'angle'],
      8815: ['k_0', 'scale'],
      8816: ['x_0', 'length'],
      8817: ['y_0', 'length'],
    },
  },
};
const ONE_PARALLEL = 9801;

/** The same by name, for texts that carry no codes. Reference: IOGP-373-7-2. */
const METHOD_NAMES: Readonly<Record<string, number>> = {
  'transverse mercator': 9807,
  'mercator (variant a)': 9804,
  'oblique stereographic': 9809,
  'lambert conic conformal (1sp)': 9801,
  'lambert conic conformal (2sp)': 9802,
  'hotine oblique mercator (variant b)': 9815,
};
const PARAMETER_NAMES: Readonly<Record<string, number>> = {
  'latitude of natural origin': 8801,
  'longitude of natural origin': 8802,
  'scale factor at natural origin': 8805,
  'false easting': 8806,
  'false northing': 8807,
  'latitude of projection centre': 8811,
  'longitude of projection centre': 8812,
  'azimuth at projection centre': 8813,
  'angle from rectified to skew grid': 8814,
  'scale factor at projection centre': 8815,
  'easting at projection centre': 8816,
  'northing at projection centre': 8817,
  'latitude of false origin': 8821,
  'longitude of false origin': 8822,
  'latitude of 1st standard parallel': 8823,
  'latitude of 2nd standard parallel': 8824,
  'easting at false origin': 8826,
  'northing at false origin': 8827,
};
/** The code of an element: its own, or that of its name; null: neither is known. */
function codeOf(node: WktNode, names: Readonly<Record<string, number>>): number | null {
  const [name = null] = node.texts;
  return wktCode(node) ?? (name === null ? null : (ownEntry(names, name.toLowerCase()) ?? null));
}

/**
 * The definition of a projected system given as well-known text of its second form (WKT2), as `design-grid --wkt` and other programs
 * write it.
 *
 * Given: the text. Returned: a definition with the PROJ string that means the same, named as the text names it, on the geographic system
 * whose code it carries.
 * Problems: system-definition-invalid where the text is not whole; system-unsupported, saying what, for other kinds of systems, methods,
 * axes and units than a grid of eastings and northings in metres from Greenwich.
 * Reference: OGC-18-010, clauses 9, 10 and 14.
 */
export function definitionFromWkt(text: string): Outcome<SystemDefinition> {
  const node = parseWkt(text);
  const name = node?.texts[0];
  if (node === null || name === undefined) return invalid('is not one whole element with balanced brackets and quotes');
  if (node.keyword !== 'PROJCRS' && node.keyword !== 'PROJECTEDCRS')
    return unsupported(name, `${node.keyword} is not read, only PROJCRS`);
  const base = wktChild(node, 'BASEGEOGCRS', 'BASEGEODCRS');
  const conversion = wktChild(node, 'CONVERSION');
  const method = conversion === null ? null : wktChild(conversion, 'METHOD', 'PROJECTION');
  if (base === null || conversion === null || method === null)
    return invalid('needs a BASEGEOGCRS and a CONVERSION with its METHOD');
  const ellipsoid = ellipsoidText(base);
  if (ellipsoid === null) return unsupported(name, 'its ellipsoid is not stated, or not in metres');
  const meridian = wktChild(base, 'PRIMEM');
  if (meridian !== null && meridian.numbers[0] !== 0)
    return unsupported(name, 'its longitudes are not counted from Greenwich');
  if (!countsEastNorthMetres(node)) return unsupported(name, 'its axes are not eastings and northings in metres');
  const written = conversionText(conversion, method);
  if (written === null)
    return unsupported(
      name,
      `method ${method.texts.join(', ')}, its parameters or their units are not read from a text`,
    );
  const proj4 = `${written} ${ellipsoid} +units=m`;
  return success({
    code: null,
    name,
    kind: 'projected',
    proj4,
    wkt: text,
    unitName: null,
    areaOfUse: null,
    accuracyM: null,
  });
}

function ellipsoidText(base: WktNode): string | null {
  const datum = wktChild(base, 'DATUM', 'ENSEMBLE', 'GEODETICDATUM', 'TRF');
  const ellipsoid = datum === null ? null : wktChild(datum, 'ELLIPSOID', 'SPHEROID');
  if (ellipsoid === null || unitOf(ellipsoid, 'LENGTHUNIT', 1) !== 1) return null;
  const [a, inverse] = ellipsoid.numbers;
  if (a === undefined || inverse === undefined) return null;
  return inverse === 0 ? `+a=${String(a)} +b=${String(a)}` : `+a=${String(a)} +rf=${String(inverse)}`;
}

/** East and north, in this order, in metres: of both axes together or of each. */
function countsEastNorthMetres(node: WktNode): boolean {
  const axes = node.nodes.filter(({ keyword }) => keyword === 'AXIS');
  const directions = axes.map(({ texts }) => texts[1]?.toLowerCase());
  const ofAll = unitOf(node, 'LENGTHUNIT', null) ?? unitOf(node, 'UNIT', null);
  return (
    directions.length === 2 &&
    directions[0] === 'east' &&
    directions[1] === 'north' &&
    // An order that is stated counts, wherever the axes stand.
    axes.every((axis, at) => (wktChild(axis, 'ORDER')?.numbers[0] ?? at + 1) === at + 1) &&
    axes.every((axis) => (unitOf(axis, 'LENGTHUNIT', null) ?? unitOf(axis, 'UNIT', null) ?? ofAll) === 1)
  );
}

/** The factor to metres, radians or one of the unit in an element; `absent` where none is stated. */
function unitOf(node: WktNode, keyword: string, absent: number | null): number | null {
  const unit = wktChild(node, keyword);
  return unit === null ? absent : (unit.numbers[0] ?? null);
}

function conversionText(conversion: WktNode, method: WktNode): string | null {
  const code = codeOf(method, METHOD_NAMES);
  const known = code === null ? undefined : METHODS[code];
  if (known === undefined) return null;
  const parts = new Map<string, string>();
  for (const parameter of conversion.nodes.filter(({ keyword }) => keyword === 'PARAMETER')) {
    const own = known.written[codeOf(parameter, PARAMETER_NAMES) ?? Number.NaN];
    const value = parameter.numbers[0];
    if (own === undefined || value === undefined) return null;
    const inUnit = inPlainUnit(parameter, value, own[1]);
    if (inUnit === null) return null;
    parts.set(own[0], String(inUnit));
  }
  if (parts.size !== Object.keys(known.written).length) return null;
  // PROJ has no latitude of origin of Mercator's, which is the equator.
  if (known.proj === 'merc' && parts.get('lat_0') !== '0') return null;
  if (known.proj === 'merc') parts.delete('lat_0');
  // PROJ wants the one parallel by its own name too.
  if (code === ONE_PARALLEL) parts.set('lat_1', present(parts.get('lat_0'), 'the parallel'));
  return [`+proj=${known.proj}`, ...Array.from(parts, ([name, value]) => `+${name}=${value}`)].join(' ');
}

const RADIANS_PER_DEGREE = Math.PI / 180;

/** Degrees, metres or a number of one; null where the unit is not stated. A text rounds the degree to ten digits and more. */
function inPlainUnit(parameter: WktNode, value: number, kind: 'angle' | 'length' | 'scale'): number | null {
  const keyword = { angle: 'ANGLEUNIT', length: 'LENGTHUNIT', scale: 'SCALEUNIT' }[kind];
  const factor = unitOf(parameter, keyword, null);
  if (factor === null) return null;
  if (kind !== 'angle') return value * factor;
  const inDegrees = factor / RADIANS_PER_DEGREE;
  return Math.abs(inDegrees - 1) < 1e-9 ? value : value * inDegrees;
}

function invalid(what: string): Outcome<never> {
  return failure(
    errorProblem('system-definition-invalid', {
      message: `the well-known text ${what}`,
      hint: 'give the whole text between quotes, or the PROJ string',
    }),
  );
}

function unsupported(name: string, why: string): Outcome<never> {
  return failure(
    errorProblem('system-unsupported', {
      message: `${name}: ${why}`,
      received: name,
      hint: 'give its code or its PROJ string',
    }),
  );
}
