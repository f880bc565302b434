import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { formatFixed } from '../../numeric/text/format-fixed.js';
import type { GeographicSystem } from '../systems/geographic-system.js';

export type DesignMethod = 'transverse-mercator' | 'lambert' | 'oblique-mercator';

export const DESIGN_METHODS: readonly DesignMethod[] = ['transverse-mercator', 'lambert', 'oblique-mercator'];

/** A project grid by its numbers, as they are written: degrees to 0.01 (azimuth to 0.1), the scale to 6 decimals. */
export interface GridDesign {
  readonly method: DesignMethod;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** Of the end of the initial line that goes north, at the centre, 0 to 90 or 270 to 360; oblique Mercator only. */
  readonly azimuthDeg: number;
  readonly scaleFactor: number;
  readonly falseEastingM: number;
  readonly falseNorthingM: number;
}

/** A number without needless zeros. */
function short(value: number, decimals: number): string {
  const text = formatFixed(value, decimals);
  let end = text.length;
  while (text[end - 1] === '0') end -= 1;
  return text.slice(0, text[end - 1] === '.' ? end - 1 : end);
}

/** The design as a PROJ string, without a datum: the frame is that of its points. */
export function designProjString(design: GridDesign, { semiMajorAxisM, flattening }: Ellipsoid): string {
  const { method, falseEastingM, falseNorthingM, scaleFactor } = design;
  const [lat, lon] = [short(design.latitudeDeg, 6), short(design.longitudeDeg, 6)];
  const alpha = short(design.azimuthDeg, 6);
  const geometry = {
    'transverse-mercator': `+proj=tmerc +lat_0=${lat} +lon_0=${lon}`,
    lambert: `+proj=lcc +lat_1=${lat} +lat_0=${lat} +lon_0=${lon}`,
    // The axes are turned back to north at the centre.
    'oblique-mercator': `+proj=omerc +lat_0=${lat} +lonc=${lon} +alpha=${alpha} +gamma=${alpha}`,
  }[method];
  const shape = flattening === 0 ? '' : ` +rf=${short(1 / flattening, 12)}`;
  return `${geometry} +k_0=${short(scaleFactor, 6)} +x_0=${short(falseEastingM, 3)} +y_0=${short(falseNorthingM, 3)} +a=${short(semiMajorAxisM, 6)}${shape === '' ? ` +b=${short(semiMajorAxisM, 6)}` : shape} +units=m`;
}

interface WktMethod {
  readonly name: string;
  readonly code: number;
  readonly parameters: readonly (readonly [name: string, code: number, value: number, unit: 'deg' | 'm' | ''])[];
}

function wktMethod(design: GridDesign): WktMethod {
  const { latitudeDeg, longitudeDeg, azimuthDeg, scaleFactor, falseEastingM, falseNorthingM } = design;
  if (design.method === 'oblique-mercator')
    return {
      name: 'Hotine Oblique Mercator (variant B)',
      code: 9815,
      parameters: [
        ['Latitude of projection centre', 8811, latitudeDeg, 'deg'],
        ['Longitude of projection centre', 8812, longitudeDeg, 'deg'],
        ['Azimuth at projection centre', 8813, azimuthDeg, 'deg'],
        ['Angle from Rectified to Skew Grid', 8814, azimuthDeg, 'deg'],
        ['Scale factor at projection centre', 8815, scaleFactor, ''],
        ['Easting at projection centre', 8816, falseEastingM, 'm'],
        ['Northing at projection centre', 8817, falseNorthingM, 'm'],
      ],
    };
  return {
    ...(design.method === 'lambert'
      ? { name: 'Lambert Conic Conformal (1SP)', code: 9801 }
      : { name: 'Transverse Mercator', code: 9807 }),
    parameters: [
      ['Latitude of natural origin', 8801, latitudeDeg, 'deg'],
      ['Longitude of natural origin', 8802, longitudeDeg, 'deg'],
      ['Scale factor at natural origin', 8805, scaleFactor, ''],
      ['False easting', 8806, falseEastingM, 'm'],
      ['False northing', 8807, falseNorthingM, 'm'],
    ],
  };
}

const DEGREE = 'ANGLEUNIT["degree",0.0174532925199433]';
const UNITS = { deg: DEGREE, m: 'LENGTHUNIT["metre",1]', '': 'SCALEUNIT["unity",1]' } as const;

/** The design as WKT2 (ISO 19162:2019) on the geographic system of its points. */
export function designWkt(design: GridDesign, base: GeographicSystem, name: string): string {
  const { ellipsoid } = base;
  const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
  const inverse = ellipsoid.flattening === 0 ? 0 : 1 / ellipsoid.flattening;
  const method = wktMethod(design);
  const code = base.code === null ? undefined : /^EPSG:(\d+)$/u.exec(base.code)?.[1];
  const id = code === undefined ? '' : `,ID["EPSG",${code}]`;
  return [
    `PROJCRS[${quoted(name)},`,
    `  BASEGEOGCRS[${quoted(base.name)},`,
    `    DATUM[${quoted(base.name)},ELLIPSOID[${quoted(ellipsoid.name)},${short(ellipsoid.semiMajorAxisM, 6)},${short(inverse, 12)},${UNITS.m}]],`,
    `    PRIMEM["Greenwich",0,${DEGREE}]${id}],`,
    `  CONVERSION[${quoted(name)},`,
    `    METHOD[${quoted(method.name)},ID["EPSG",${String(method.code)}]],`,
    method.parameters
      .map(
        ([label, parameter, value, unit]) =>
          `    PARAMETER[${quoted(label)},${short(value, 6)},${UNITS[unit]},ID["EPSG",${String(parameter)}]]`,
      )
      .join(',\n') + '],',
    '  CS[Cartesian,2],',
    '    AXIS["easting (E)",east,ORDER[1]],',
    '    AXIS["northing (N)",north,ORDER[2]],',
    `    ${UNITS.m}]`,
    '',
  ].join('\n');
}
