import { parseAngle } from '../../../core/numeric/text/angle-text.js';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { INTERNATIONAL_FOOT_M } from '../../../core/numeric/length-units.js';
import { pushAll } from '../../../core/numeric/push-all.js';
import { failure, failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Problem } from '../../../records/problem.js';

/** The header of an ISG grid of geodetic coordinates, its bounds as written. */
export interface IsgHeader {
  readonly latitudeMinDeg: number;
  readonly latitudeMaxDeg: number;
  readonly longitudeMinDeg: number;
  readonly longitudeMaxDeg: number;
  readonly latitudeStepDeg: number;
  readonly longitudeStepDeg: number;
  readonly rows: number;
  readonly columns: number;
  /** Value of a node without data, in the file's unit; null where there is none. */
  readonly noData: number | null;
  readonly metresPerUnit: number;
  /** `EPSG:n`; null where the file gives no code. */
  readonly frame: string | null;
}

/** How the format writes "not there". */
const ABSENT = '---';

/** Keys with the only values that are read; the first is what the message asks for. */
const REQUIRED: readonly (readonly [key: string, ...values: string[]])[] = [
  ['isg format', '2.0'],
  ['data type', 'geoid', 'quasi-geoid'],
  ['data units', 'meters', 'feet'],
  ['data format', 'grid'],
  ['data ordering', 'N-to-S, W-to-E'],
  ['coord type', 'geodetic'],
  ['coord units', 'dms', 'deg'],
];

/**
 * Reads the lines between `begin_of_head` and `end_of_head`.
 *
 * Given: the lines, and the number of the first in the file.
 * Returned: the header.
 * Problems: `grid-unsupported` for a sparse or projected model, another version, kind of data or
 * order; `grid-unreadable`, with the line where there is one, for a key that is missing, given twice
 * or not of its kind.
 * Notes: the format's feet do not say which foot. They are taken as 0.3048 m; the other foot would
 * differ by 0.2 mm in 100 m.
 * Reference: ISG, format 2.0, header keys; docs/geoid-formats.md.
 */
export function isgHeaderOf(lines: readonly string[], firstLine: number): Outcome<IsgHeader> {
  const fields = new Map<string, { readonly text: string; readonly line: number }>();
  for (const [index, line] of lines.entries()) {
    if (line.trim() === '') continue;
    const split = /^([^:=]*)[:=](.*)$/u.exec(line);
    // A line with neither sign has no key, and is refused.
    const key = split?.[1]?.trim().toLowerCase().replaceAll(/\s+/gu, ' ') ?? '';
    if (key === '') return bad('a line of the header has neither : nor =', firstLine + index, line);
    if (fields.has(key)) return bad(`the header gives "${key}" twice`, firstLine + index, line);
    // It has a key, so the sign was found and what follows it.
    fields.set(key, { text: split?.[2]?.trim() ?? '', line: firstLine + index });
  }

  for (const [key, ...values] of REQUIRED) {
    const field = fields.get(key);
    if (field === undefined) return bad(`the header has no "${key}"`);
    if (!values.some((value) => plain(value) === plain(field.text))) {
      return failure({
        code: 'grid-unsupported',
        severity: 'error',
        message: `the isg grid has "${key}" ${field.text}, which is not read`,
        where: { line: field.line },
        received: field.text,
        expected: values.join(' or '),
      });
    }
  }

  const problems: Problem[] = [];
  // A header without units of coordinates means degrees.
  const isDms = plain(fields.get('coord units')?.text ?? '') === 'dms';
  function number(key: string, isAngle: boolean): number {
    const field = fields.get(key);
    // No text is no number, and is refused as one.
    const text = field?.text ?? '';
    const value = isAngle && isDms ? dmsOf(text) : parseDecimal(text);
    if (value !== null) return value;
    pushAll(
      problems,
      bad(field === undefined ? `the header has no "${key}"` : `"${key}" is not of its kind`, field?.line, text)
        .problems,
    );
    return Number.NaN;
  }
  const noDataText = fields.get('nodata')?.text ?? ABSENT;
  const epsgText = fields.get('epsg code')?.text ?? ABSENT;
  const header: IsgHeader = {
    latitudeMinDeg: number('lat min', true),
    latitudeMaxDeg: number('lat max', true),
    longitudeMinDeg: number('lon min', true),
    longitudeMaxDeg: number('lon max', true),
    latitudeStepDeg: number('delta lat', true),
    longitudeStepDeg: number('delta lon', true),
    rows: number('nrows', false),
    columns: number('ncols', false),
    noData: noDataText === ABSENT ? null : number('nodata', false),
    // A header without units of data means metres.
    metresPerUnit: plain(fields.get('data units')?.text ?? '') === 'feet' ? INTERNATIONAL_FOOT_M : 1,
    frame: /^[0-9]+$/u.test(epsgText) ? `EPSG:${epsgText}` : null,
  };
  return problems.length > 0 ? failureOf(problems) : success(header);
}

/** Degrees of `39°50'00"`; the degree sign may have been lost to another encoding. */
function dmsOf(text: string): number | null {
  if (!/^[+-]?[0-9]+[°\uFFFD]/u.test(text)) return null;
  const angle = parseAngle(text.replace('\uFFFD', '°'), 'any');
  return angle.ok ? angle.value : null;
}

function plain(text: string): string {
  return text.toLowerCase().replaceAll(/\s+/gu, '');
}

function bad(message: string, line?: number, received?: string) {
  return failure({
    code: 'grid-unreadable',
    severity: 'error',
    message,
    ...(line === undefined ? {} : { where: { line } }),
    ...(received === undefined ? {} : { received }),
  });
}
