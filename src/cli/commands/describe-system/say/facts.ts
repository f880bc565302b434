import type { GridDescription } from '../../../../core/grid/systems/describe-grid-system.js';
import type { GeographicSystem } from '../../../../core/grid/systems/geographic-system.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import { largestOf } from '../../../../core/numeric/extremes.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { createCsvWriter } from '../../../../io/csv/csv-write.js';
import { DECIMALS } from '../../../../io/tables/columns/cells/decimals.js';
import { textOption } from '../../../shell/command-spec.js';
import { answerJson } from '../../../../io/documents/answer-json.js';
import type { RunAnswer } from '../../../../records/runs/run-answer.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { DescribedPlace, PlaceInGrid } from '../../../../tasks/describe/place-in-grid.js';
import { present } from '../../../../records/present.js';

/** One line of the answer: the same names in every format. */
export type Fact = readonly [name: string, value: string | number | null];

/** A grid system. */
export function systemFacts(description: GridDescription): readonly Fact[] {
  const { areaOfUse, axes } = description;
  return [
    ['code', description.code],
    ['name', description.name],
    ['method', description.method],
    ...description.parameters.map((parameter): Fact => [
      parameterName(parameter.name, parameter.unit),
      parameter.value,
    ]),
    ['base_code', description.baseCode],
    ['base_name', description.baseName],
    ['ellipsoid', description.ellipsoidName],
    ['semi_major_axis_m', description.semiMajorAxisM],
    ['inverse_flattening', description.inverseFlattening],
    ...axes.map((axis, index): Fact => [
      `axis_${index + 1}`,
      `${axis.columnName} (${axis.abbreviation}), positive ${axis.direction}, ${axis.unitName}`,
    ]),
    ['area_of_use', areaOfUse?.description ?? null],
    ['area_south_deg', areaOfUse?.southDeg ?? null],
    ['area_west_deg', areaOfUse?.westDeg ?? null],
    ['area_north_deg', areaOfUse?.northDeg ?? null],
    ['area_east_deg', areaOfUse?.eastDeg ?? null],
  ];
}

/** A geographic or geocentric system. */
export function geographicFacts(system: GeographicSystem, kind: string): readonly Fact[] {
  const { ellipsoid, areaOfUse, datumShift } = system;
  return [
    ['code', system.code],
    ['name', system.name],
    ['kind', kind],
    ['ellipsoid', ellipsoid.name],
    ['semi_major_axis_m', ellipsoid.semiMajorAxisM],
    ['inverse_flattening', ellipsoid.flattening === 0 ? null : rounded(1 / ellipsoid.flattening, 9)],
    ['shift_to_wgs84_in_definition', datumShift === null ? null : datumShift.join(' ')],
    ['area_of_use', areaOfUse?.description ?? null],
    ['area_south_deg', areaOfUse?.southDeg ?? null],
    ['area_west_deg', areaOfUse?.westDeg ?? null],
    ['area_north_deg', areaOfUse?.northDeg ?? null],
    ['area_east_deg', areaOfUse?.eastDeg ?? null],
  ];
}

function parameterName(name: string, unit: string): string {
  const words = name.toLowerCase().replace(/[^a-z0-9]+/gu, '_');
  return unit === '' ? words : `${words}_${unit}`;
}

/** A place in a grid: its pair and the factors there. */
export function placeFacts(place: DescribedPlace, { axes }: GridSystem, found: PlaceInGrid): readonly Fact[] {
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = place;
  const factor = (name: string, value: number | null): readonly Fact[] =>
    value === null ? [] : [[name, rounded(value, 12)]];
  return [
    ['latitude_deg', rounded(latitudeDeg, DECIMALS.degrees)],
    ['longitude_deg', rounded(longitudeDeg, DECIMALS.degrees)],
    [axes[0].columnName, rounded(found.first, DECIMALS.metres)],
    [axes[1].columnName, rounded(found.second, DECIMALS.metres)],
    ['point_scale_factor', found.pointScaleFactor === null ? null : rounded(found.pointScaleFactor, 12)],
    ['convergence_deg', rounded(found.convergenceDeg, DECIMALS.degrees)],
    ...(found.pointScaleFactor === null
      ? [
          ...factor('meridian_scale_factor', found.meridianScaleFactor),
          ...factor('parallel_scale_factor', found.parallelScaleFactor),
        ]
      : []),
    ...(ellipsoidalHeightM === null ? [] : [['ellipsoidal_height_m', ellipsoidalHeightM] as const]),
    ...factor('elevation_factor', found.elevationFactor),
    ...factor('combined_factor', found.combinedFactor),
  ];
}

/** Heights of a place through a geoid. */
export function heightFacts(geoidHeightM: number, orthometricHeightM: number): readonly Fact[] {
  return [
    ['geoid_height_m', rounded(geoidHeightM, DECIMALS.metres)],
    ['orthometric_height_m', rounded(orthometricHeightM, DECIMALS.metres)],
  ];
}

/** Numbers as they are printed, so that text and JSON agree. */
function rounded(value: number, decimals: number): number {
  return present(parseDecimal(formatFixed(value, decimals)), 'the number of a text just written');
}

/** The facts in the form that was asked for; in JSON with the answer of the run. */
export function textOf(
  facts: readonly Fact[],
  answer: RunAnswer,
  bench: Pick<Workbench, 'format' | 'invocation' | 'isViewed'>,
): string {
  if (bench.format === 'jsonl') return facts.map(([name, value]) => `${JSON.stringify({ name, value })}\n`).join('');
  if (bench.format === 'json' || bench.format === 'geojson')
    return `${JSON.stringify({ ...Object.fromEntries(facts), summary: answerJson(answer) }, null, 2)}\n`;
  const isForPeople =
    textOption(bench.invocation, 'format') === null && textOption(bench.invocation, 'output') === null;
  if (isForPeople && !bench.isViewed()) {
    const width = largestOf(facts.map(([name]) => name.length)) + 2;
    return `${facts.map(([name, value]) => `${name.padEnd(width)}${value === null ? '' : String(value)}`.trimEnd()).join('\n')}\n`;
  }
  const writer = createCsvWriter(['name', 'value']);
  return writer.header() + writer.rows(facts.map(([name, value]) => [name, value === null ? '' : String(value)]));
}
