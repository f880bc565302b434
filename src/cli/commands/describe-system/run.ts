import { gaussRadiusM } from '../../../core/ellipsoid/radii.js';
import { combinedFactor, elevationFactor } from '../../../core/grid/factors/elevation-factor.js';
import { buildGeographicSystem } from '../../../core/grid/systems/build-geographic-system.js';
import { describeGridSystem } from '../../../core/grid/systems/describe-grid-system.js';
import type { GridDescription } from '../../../core/grid/systems/describe-grid-system.js';
import { emptyGridPairAndFactors } from '../../../core/grid/factors/grid-factors.js';
import { gridProblem } from '../../../core/grid/systems/grid-problem.js';
import { isInsideArea } from '../../../core/grid/systems/area-of-use.js';
import type { GeographicSystem } from '../../../core/grid/systems/geographic-system.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { orthometricHeightM } from '../../../core/geoid/orthometric-height.js';
import { geoidProblem } from '../../../core/geoid/geoid-problem.js';
import { parseAngle } from '../../../core/numeric/text/angle-text.js';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { largestOf } from '../../../core/numeric/extremes.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { pushAll } from '../../../core/numeric/push-all.js';
import { createCsvWriter } from '../../../io/csv/csv-write.js';
import { loadSystemDefinition } from '../../../io/host/system-registry.js';
import { DECIMALS } from '../../../io/tables/columns/decimals.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import { textOption } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { geoidOptions } from '../../inputs/geoid-options.js';
import { gridReading } from '../../inputs/grid-reading.js';
import { loadGeoid } from '../../../files/load-geoid.js';
import { loadGridSystem } from '../../../files/load-systems.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { Workbench } from '../../shell/workbench.js';
import { createRunLog } from '../../shell/run-log.js';
import { endWith, rowsAnswer } from '../../shell/run-end.js';
import { entryAt } from '../../../records/present.js';

interface Place {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number | null;
}

/** One line of the answer: the same names in every format. */
type Fact = readonly [name: string, value: string | number | null];

/** Describes a projected system, and a place in it. */
export const runDescribeSystem: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  const body = async (bench: Workbench): ReturnType<Parameters<typeof withWorkbench>[3]> => {
    const text = entryAt(invocation.args, 0);
    const at = textOption(invocation, 'at');
    const definition = bench.take(loadSystemDefinition(text));
    if (definition.kind !== 'projected' && at === null) {
      const facts = geographicFacts(bench.take(buildGeographicSystem(definition)), definition.kind);
      await (await bench.open(textOption(invocation, 'output') ?? '-')).write(textOf(facts, bench));
      log.model('system', { role: 'system', name: text, definition: definition.proj4, sha256: null });
      return endWith(rowsAnswer(1, 0), invocation, log);
    }
    const system = bench.take(loadGridSystem(text));
    const sink = await bench.open(textOption(invocation, 'output') ?? '-');
    const facts: Fact[] = systemFacts(describeGridSystem(system));
    if (at !== null) pushAll(facts, await placeFacts(bench.take(parsePlace(at)), system, bench));
    await sink.write(textOf(facts, bench));
    log.model('system', { role: 'system', name: text, definition: definition.proj4, sha256: null });
    return endWith(rowsAnswer(1, 0), invocation, log);
  };
  return withWorkbench(invocation, context, [], body, log.failure);
};

function systemFacts(description: GridDescription): Fact[] {
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

function geographicFacts(system: GeographicSystem, kind: string): readonly Fact[] {
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

async function placeFacts(place: Place, system: GridSystem, bench: Workbench): Promise<readonly Fact[]> {
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = place;
  const held = emptyGridPairAndFactors();
  const status = system.forwardWithFactors(latitudeDeg, longitudeDeg, held);
  if (status !== 'ok') return bench.take(failure(gridProblem(status, { latitudeDeg, longitudeDeg }, system)));
  if (system.areaOfUse !== null && !isInsideArea(system.areaOfUse, latitudeDeg, longitudeDeg)) {
    bench.diagnostics.report([
      warningProblem('coordinate-outside-area', {
        message: `${latitudeDeg}, ${longitudeDeg} is outside the area of use of ${system.name}: ${system.areaOfUse.description}`,
        hint: 'check the zone',
      }),
    ]);
  }
  const facts: Fact[] = [
    ['latitude_deg', rounded(latitudeDeg, DECIMALS.degrees)],
    ['longitude_deg', rounded(longitudeDeg, DECIMALS.degrees)],
    [system.axes[0].columnName, rounded(held.first, DECIMALS.metres)],
    [system.axes[1].columnName, rounded(held.second, DECIMALS.metres)],
    ['point_scale_factor', held.pointScaleFactor === null ? null : rounded(held.pointScaleFactor, 12)],
    ['convergence_deg', rounded(held.convergenceDeg, DECIMALS.degrees)],
  ];
  if (held.pointScaleFactor === null) {
    facts.push(
      ['meridian_scale_factor', rounded(held.meridianScaleFactor, 12)],
      ['parallel_scale_factor', rounded(held.parallelScaleFactor, 12)],
    );
  }
  if (ellipsoidalHeightM === null) return facts;
  const elevation = elevationFactor(gaussRadiusM(system.base.ellipsoid, latitudeDeg), ellipsoidalHeightM);
  facts.push(['ellipsoidal_height_m', ellipsoidalHeightM], ['elevation_factor', rounded(elevation, 12)]);
  if (held.pointScaleFactor !== null)
    facts.push(['combined_factor', rounded(combinedFactor(held.pointScaleFactor, elevation), 12)]);
  const { model, interpolation, statedFrame } = bench.take(geoidOptions(bench.invocation));
  if (model === null) return facts;
  const { geoid } = bench.take(
    await loadGeoid(
      { model, interpolation: interpolation ?? 'bilinear', sigmaM: null, statedFrame },
      bench.context.cwd,
      system.base,
      gridReading(bench.invocation, bench.context.signal),
    ),
  );
  const geoidHeight = geoid.heightAt(latitudeDeg, longitudeDeg);
  if (geoidHeight === null) {
    return bench.take(
      failure(
        geoidProblem(
          geoid.statusAt(latitudeDeg, longitudeDeg) === 'nodata' ? 'nodata' : 'outside',
          latitudeDeg,
          longitudeDeg,
          geoid.grid,
        ),
      ),
    );
  }
  facts.push(
    ['geoid_height_m', rounded(geoidHeight, DECIMALS.metres)],
    ['orthometric_height_m', rounded(orthometricHeightM(ellipsoidalHeightM, geoidHeight), DECIMALS.metres)],
  );
  return facts;
}

/** Numbers as they are printed, so that text and JSON agree. */
function rounded(value: number, decimals: number): number {
  return parseDecimal(formatFixed(value, decimals)) ?? 0;
}

function textOf(facts: readonly Fact[], bench: Workbench): string {
  if (bench.format === 'json' || bench.format === 'geojson')
    return `${JSON.stringify(Object.fromEntries(facts), null, 2)}\n`;
  if (textOption(bench.invocation, 'format') === null && textOption(bench.invocation, 'output') === null) {
    const width = largestOf(facts.map(([name]) => name.length)) + 2;
    return `${facts.map(([name, value]) => `${name.padEnd(width)}${value === null ? '' : String(value)}`.trimEnd()).join('\n')}\n`;
  }
  const writer = createCsvWriter(['name', 'value']);
  return writer.header() + writer.rows(facts.map(([name, value]) => [name, value === null ? '' : String(value)]));
}

function parsePlace(text: string): Outcome<Place> {
  const parts = text.split(',').map((part) => part.trim());
  if (parts.length < 2 || parts.length > 3) {
    return failure(
      errorProblem('usage-invalid', {
        message: `--at ${text} is not LAT,LON or LAT,LON,H`,
        received: text,
        hint: 'for example --at -31.5,21.4,1040',
      }),
    );
  }
  const latitude = parseAngle(entryAt(parts, 0), 'latitude');
  if (!latitude.ok) return latitude;
  const longitude = parseAngle(entryAt(parts, 1), 'longitude');
  if (!longitude.ok) return longitude;
  const height = parts[2] === undefined ? null : parseDecimal(parts[2]);
  if (parts[2] !== undefined && height === null) {
    return failure(
      errorProblem('usage-invalid', {
        message: `the height of --at, ${parts[2]}, is not a number`,
        received: parts[2],
      }),
    );
  }
  return success({ latitudeDeg: latitude.value, longitudeDeg: longitude.value, ellipsoidalHeightM: height });
}
