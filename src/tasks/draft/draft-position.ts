import type { Assignment } from './columns/assign-columns.js';
import type { ColumnProfile } from './columns/column-profile.js';
import { columnLine, range, saysFeet } from './columns/draft-columns.js';
import { ASKED, question } from './draft-line.js';
import type { Answers, DraftLine, DraftValue, WorkBox } from './draft-line.js';
import { guessAngle } from './guesses/guess-angle.js';
import type { AngleGuess } from './guesses/guess-angle.js';
import { guessLength } from './guesses/guess-length.js';

/** Lines of the position's columns, with what they say of the place. */
export interface PositionLines {
  readonly lines: readonly DraftLine[];
  readonly kind: 'geographic' | 'geocentric' | 'grid' | 'unknown';
  readonly box: WorkBox | null;
  readonly height: 'ellipsoidal' | 'orthometric' | 'asked' | 'own';
}

/** Names of the axes of grid coordinates: of the system that an answer names. */
export type AxisPair = readonly [string, string];

const LEAST_RADIUS_M = 6_300_000;
const GREATEST_RADIUS_M = 6_500_000;

/** Guesses the columns of positions and heights. `axes`: of the system that was answered for the fixes; null: none. */
export function positionColumns(
  assigned: Assignment,
  decimalComma: boolean,
  axes: AxisPair | null,
  answers: Answers,
): PositionLines {
  const { of } = assigned;
  const [latitude, longitude] = [of.get('latitude_deg'), of.get('longitude_deg')];
  if (latitude !== undefined || longitude !== undefined) {
    const height = heightLine(assigned, answers);
    const plan = geographicLines(assigned, decimalComma);
    return { lines: [...plan.lines, ...height.lines], kind: 'geographic', box: plan.box, height: height.kind };
  }
  if (isGeocentric(assigned)) {
    const lines = (['x', 'y', 'z'] as const).flatMap((axis) => {
      const column = of.get(axis);
      return column === undefined
        ? []
        : [columnLine(`${axis}_m`, column.header, [`geocentric, values ${range(column)}`])];
    });
    return { lines, kind: 'geocentric', box: null, height: 'own' };
  }
  const grid = gridLines(assigned, axes);
  if (grid !== null) {
    const height = heightLine(assigned, answers);
    return { lines: [...grid, ...height.lines], kind: 'grid', box: null, height: height.kind };
  }
  const free = `columns that nothing was guessed of: ${assigned.free.map(({ header }) => header).join(', ')}`;
  const height = heightLine(assigned, answers);
  return {
    lines: [
      question(['columns', 'latitude_deg'], ['which column holds the latitude?', free]),
      question(['columns', 'longitude_deg'], ['which column holds the longitude?']),
      ...height.lines,
    ],
    kind: 'unknown',
    box: null,
    height: height.kind,
  };
}

function geographicLines(
  assigned: Assignment,
  decimalComma: boolean,
): { readonly lines: readonly DraftLine[]; readonly box: WorkBox | null } {
  const { of } = assigned;
  const guess = (axis: 'latitude' | 'longitude', beside: AngleGuess['writing']): AngleGuess | null => {
    const column = of.get(`${axis}_deg`);
    const letters = of.get(`${axis}_letter`) ?? null;
    return column === undefined ? null : guessAngle(column, axis, decimalComma, letters, beside);
  };
  const first = guess('latitude', null);
  const east = guess('longitude', first?.writing ?? null);
  const north = first?.writing === null ? guess('latitude', east?.writing ?? null) : first;
  const swapped = swappedLines(assigned, north);
  if (swapped !== null) return { lines: swapped, box: null };
  const missing = (axis: string): DraftLine =>
    question(['columns', `${axis}_deg`], [`which column holds the ${axis}?`]);
  const line = (axis: 'latitude' | 'longitude', made: AngleGuess | null): DraftLine =>
    made === null
      ? missing(axis)
      : made.degrees?.every((value) => value === 0) === true
        ? question(['columns', `${axis}_deg`], [`the column named for the ${axis} holds only 0: which one holds it?`])
        : columnLine(`${axis}_deg`, made.value, made.why);
  const lines = [line('latitude', north), line('longitude', east)];
  const isZero = lines.some(({ value }) => value === ASKED);
  return {
    lines,
    box: isZero || north?.degrees == null || east?.degrees == null ? null : boxOf(north.degrees, east.degrees),
  };
}

/** Two questions where the columns named for latitude and longitude look exchanged. */
function swappedLines({ of }: Assignment, north: AngleGuess | null): readonly DraftLine[] | null {
  const [latitude, longitude] = [of.get('latitude_deg'), of.get('longitude_deg')];
  if (latitude?.numbers == null || longitude?.numbers == null || north?.degrees != null) return null;
  const isBeyond = Math.max(Math.abs(latitude.least), Math.abs(latitude.most)) > 90;
  const couldBe = Math.max(Math.abs(longitude.least), Math.abs(longitude.most)) <= 90;
  const isAngle = Math.max(Math.abs(latitude.least), Math.abs(latitude.most)) <= 360;
  if (!isBeyond || !couldBe || !isAngle) return null;
  const said = `"${latitude.header}" holds ${range(latitude)}, "${longitude.header}" ${range(longitude)}: they look exchanged`;
  return [
    question(['columns', 'latitude_deg'], [said, 'write the header of the latitude']),
    question(['columns', 'longitude_deg'], ['write the header of the longitude']),
  ];
}

/** The smallest box; one that is wider than half the globe lies about the 180th meridian. */
function boxOf(latitudes: readonly number[], longitudes: readonly number[]): WorkBox {
  const ends = (values: readonly number[]): readonly [number, number] => {
    let [least, most] = [Infinity, -Infinity];
    for (const value of values) {
      if (value < least) least = value;
      if (value > most) most = value;
    }
    return [least, most];
  };
  const [southDeg, northDeg] = ends(latitudes);
  const [westDeg, eastDeg] = ends(longitudes);
  if (eastDeg - westDeg <= 180) return { southDeg, northDeg, westDeg, eastDeg };
  const [west, east] = ends(longitudes.map((value) => (value < 0 ? value + 360 : value)));
  return { southDeg, northDeg, westDeg: west, eastDeg: east };
}

function isGeocentric({ of }: Assignment): boolean {
  const [x, y, z] = [of.get('x'), of.get('y'), of.get('z')].map((column) => column?.numbers?.[0]);
  if (x === undefined || y === undefined || z === undefined) return false;
  const radius = Math.hypot(x, y, z);
  return radius > LEAST_RADIUS_M && radius < GREATEST_RADIUS_M;
}

/** The axes that the words of a header say; a southing is not written without a westing. */
function axesSaid(of: Assignment['of']): AxisPair {
  if (of.has('southing')) return ['westing_m', 'southing_m'];
  return of.has('westing')
    ? ['westing_m', of.has('northing') ? 'northing_m' : 'southing_m']
    : ['easting_m', 'northing_m'];
}

const SAID_AXES = ['easting', 'northing', 'westing', 'southing'] as const;

/** Lines of grid coordinates; null where there are none. A word that counts the other way than the axis is asked about. */
function gridLines(assigned: Assignment, axes: AxisPair | null): readonly DraftLine[] | null {
  const { of } = assigned;
  const first = of.get('easting') ?? of.get('westing');
  const second = of.get('northing') ?? of.get('southing');
  const names: AxisPair = axes ?? axesSaid(of);
  if (first !== undefined && second !== undefined) {
    const isFeetFile = saysFeet(assigned);
    return (
      [
        [names[0], first],
        [names[1], second],
      ] as const
    ).map(([name, column]) => {
      const said = SAID_AXES.find((word) => of.get(word) === column);
      if (said !== undefined && !name.startsWith(said))
        return question(
          ['columns', name],
          [
            `"${column.header}" says ${said}, and ${axes === null ? 'southings go with westings' : 'the system counts the other way'}: a sign is never guessed`,
            `write "${column.header}" where its values grow as ${name} does; else give the column with that sign`,
          ],
        );
      const { value, why } = unitOfAxis(column, name, isFeetFile);
      return columnLine(name, value, [
        ...why,
        ...(axes === null ? ['the name is that of an axis of the system in [system] fixes'] : []),
      ]);
    });
  }
  const [x, y] = [of.get('x'), of.get('y')];
  if (x === undefined || y === undefined) return null;
  const said = `"${x.header}" holds ${range(x)}, "${y.header}" ${range(y)}: trades and countries differ in which is the easting`;
  return [
    question(['columns', names[0]], [said, `write the header of ${names[0]}`]),
    question(['columns', names[1]], [`write the header of ${names[1]}`]),
  ];
}

/** Grid coordinates in the unit of their system need none said. */
function unitOfAxis(
  column: ColumnProfile,
  name: string,
  isFeetFile: boolean,
): { readonly value: DraftValue; readonly why: readonly string[] } {
  return name.endsWith('_m')
    ? guessLength(column, name, isFeetFile)
    : { value: column.header, why: [`in the unit of the system, values ${range(column)}`] };
}

/** The height: which kind it is, is never guessed. */
function heightLine(
  assigned: Assignment,
  answers: Answers,
): { readonly lines: readonly DraftLine[]; readonly kind: PositionLines['height'] } {
  const { of } = assigned;
  const isFeetFile = saysFeet(assigned);
  const ellipsoidal = of.get('ellipsoidal_height_m');
  if (ellipsoidal !== undefined) {
    const { value, why } = guessLength(ellipsoidal, 'ellipsoidal_height_m', isFeetFile);
    return { lines: [columnLine('ellipsoidal_height_m', value, why)], kind: 'ellipsoidal' };
  }
  const orthometric = of.get('orthometric_height_m');
  if (orthometric !== undefined) {
    const { value, why } = guessLength(orthometric, 'orthometric_height_m', isFeetFile);
    const line = columnLine('orthometric_height_m', value, [
      ...why,
      'above the geoid: the reduction needs the one it was made with',
    ]);
    return { lines: [line], kind: 'orthometric' };
  }
  const bare = of.get('height') ?? of.get('z');
  const answered = ['ellipsoidal_height_m', 'orthometric_height_m'].find((name) =>
    [...answers.keys()].some((key) => key === `columns.${name}` || key.startsWith(`columns.${name}.`)),
  );
  if (answered !== undefined) {
    const made = bare === undefined ? { value: ASKED, why: [] } : guessLength(bare, answered, isFeetFile);
    return {
      lines: [columnLine(answered, made.value, made.why)],
      kind: answered === 'ellipsoidal_height_m' ? 'ellipsoidal' : 'orthometric',
    };
  }
  if (bare === undefined)
    return {
      lines: [question(['columns', 'ellipsoidal_height_m'], ['which column holds the height above the ellipsoid?'])],
      kind: 'asked',
    };
  const { value, why } = guessLength(bare, 'ellipsoidal_height_m', isFeetFile);
  const asked: DraftValue =
    typeof value === 'string' ? ASKED : { ...(value as Readonly<Record<string, DraftValue>>), header: ASKED };
  return {
    lines: [
      columnLine('ellipsoidal_height_m', asked, [
        `"${bare.header}" does not say which height it is: write "${bare.header}" if it is above the ellipsoid;`,
        'if it is above the geoid, name the line orthometric_height_m, and the geoid it was made with under [height]',
        ...why,
      ]),
    ],
    kind: 'asked',
  };
}
