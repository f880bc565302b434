import { largestOf } from '../../../../core/numeric/extremes.js';
import type { AreaOfUse } from '../../../../core/projection/definition/system-definition.js';
import type { FoundSystem } from '../../../../files/systems/find-systems.js';
import { createCsvWriter } from '../../../../io/csv/csv-write.js';
import type { OutputFormat } from '../../../../files/points/points-writer.js';
import type { CsvWriteOptions } from '../../../../io/csv/csv-write.js';

/** One system under the same names in every format. */
function factsOf({
  definition,
  isSupported,
  whyNot,
}: FoundSystem): Readonly<Record<string, string | number | boolean | null>> {
  const { areaOfUse } = definition;
  return {
    code: definition.code,
    name: definition.name,
    kind: definition.kind,
    unit: definition.unitName,
    is_supported: isSupported,
    why_not: whyNot,
    area_of_use: areaOfUse?.description ?? null,
    area_south_deg: areaOfUse?.southDeg ?? null,
    area_west_deg: areaOfUse?.westDeg ?? null,
    area_north_deg: areaOfUse?.northDeg ?? null,
    area_east_deg: areaOfUse?.eastDeg ?? null,
  };
}

/** Systems as a list for people, as CSV, as JSON, or as GeoJSON of their areas of use. `all`: how many were found; these are listed. */
export function foundSystemsText(
  found: readonly FoundSystem[],
  format: 'people' | OutputFormat,
  csv: CsvWriteOptions,
  all: number,
): string {
  if (format === 'people') return peopleText(found);
  const facts = found.map(factsOf);
  if (format === 'jsonl') return facts.map((fact) => `${JSON.stringify(fact)}\n`).join('');
  if (format === 'json') {
    const head = { schema: 'pegbook-systems', version: 1, summary: { found: all, listed: found.length } };
    const rows = facts.map((fact) => JSON.stringify(fact));
    return `${JSON.stringify(head).slice(0, -1)},"systems":[\n${rows.join(',\n')}\n]}\n`;
  }
  if (format === 'geojson') return geojsonText(found, facts);
  const names = Object.keys(facts[0] ?? {});
  const writer = createCsvWriter(names, csv);
  return (
    writer.header() +
    writer.rows(
      facts.map((fact) =>
        names.map((name) => {
          const value = fact[name] ?? null;
          return value === null ? '' : value === true ? 'yes' : value === false ? 'no' : String(value);
        }),
      ),
    )
  );
}

function peopleText(found: readonly FoundSystem[]): string {
  // A system without a code leaves its column empty.
  const width = largestOf(found.map(({ definition }) => (definition.code ?? '').length)) + 2;
  return found
    .flatMap(({ definition, whyNot }) => [
      // A system without a code leaves its column empty.
      `${(definition.code ?? '').padEnd(width)}${definition.name} (${definition.kind})`,
      `${' '.repeat(width)}${definition.areaOfUse?.description ?? 'area of use not stated'}`,
      ...(whyNot === null ? [] : [`${' '.repeat(width)}not taken by the other commands: ${whyNot}`]),
      '',
    ])
    .join('\n');
}

function geojsonText(found: readonly FoundSystem[], facts: readonly ReturnType<typeof factsOf>[]): string {
  const features = found.map(({ definition }, index) =>
    JSON.stringify({
      type: 'Feature',
      id: definition.code,
      geometry: definition.areaOfUse === null ? null : boxOf(definition.areaOfUse),
      properties: facts[index],
    }),
  );
  return `{"type":"FeatureCollection","features":[\n${features.join(',\n')}\n]}\n`;
}

/** The box counter-clockwise; in two parts where it crosses the 180th meridian (RFC 7946 section 3.1.9). */
function boxOf({ southDeg, westDeg, northDeg, eastDeg }: AreaOfUse): object {
  const ring = (west: number, east: number): readonly (readonly (readonly [number, number])[])[] => [
    [
      [west, southDeg],
      [east, southDeg],
      [east, northDeg],
      [west, northDeg],
      [west, southDeg],
    ],
  ];
  return westDeg <= eastDeg
    ? { type: 'Polygon', coordinates: ring(westDeg, eastDeg) }
    : { type: 'MultiPolygon', coordinates: [ring(westDeg, 180), ring(-180, eastDeg)] };
}
