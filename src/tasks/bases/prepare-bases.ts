import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import { implausibleGeocentric } from '../../core/ellipsoid/implausible-geocentric.js';
import { localFrameAt } from '../../core/ellipsoid/local-frame.js';
import type { LocalFrame } from '../../core/ellipsoid/local-frame.js';
import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import { ellipsoidalHeightM } from '../../core/geoid/orthometric-height.js';
import { gridProblem } from '../../core/grid/systems/grid-problem.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { antennaHeight } from '../../core/observation/antenna-height.js';
import type { AntennaHeight } from '../../core/observation/antenna-height.js';
import { baseCorrection } from '../../core/observation/base-correction.js';
import type { BaseCorrection } from '../../core/observation/base-correction.js';
import { geoidProblem } from '../../core/geoid/geoid-problem.js';
import type { GeocentricPoint, GeodeticPoint } from '../../records/points/point.js';
import { errorProblem, locateProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { BaseCoordinate, BaseSettings } from '../../records/session.js';
import { placeDoubt } from './place-doubt.js';
import { reduceBaseFrame } from '../reduce/reduction-shift.js';
import type { BaseMove, ReductionShift } from '../reduce/reduction-shift.js';
import { setUpIdentities } from '../repeats/set-up-identity.js';
import type { SetUpIdentity } from '../repeats/set-up-identity.js';
import { entryAt, present } from '../../records/present.js';

/** A base of the session, resolved: where it said it was, where it was, and what that moves. */
export interface PreparedBase extends PlacedBase {
  /** What tells this set-up from others, and what it shares with them. */
  readonly identity: SetUpIdentity;
}

/** A base as far as it is known by itself. */
export interface PlacedBase {
  readonly settings: BaseSettings;
  readonly broadcastArp: GeocentricPoint;
  /** The known coordinate where one is given, else the broadcast one; at the antenna reference point, in the frame of the fixes. */
  readonly arp: GeocentricPoint;
  /** The same place in the frame of the grid. */
  readonly arpGeodetic: GeodeticPoint;
  /** What baselines are measured from: the mark where the antenna height is known, else the ARP. */
  readonly origin: { readonly geodetic: GeodeticPoint; readonly at: 'mark' | 'arp' };
  readonly frame: LocalFrame;
  readonly antenna: AntennaHeight | null;
  /** Null where no known coordinate is given. */
  readonly correction: BaseCorrection | null;
  /** How its points come to the frame of the grid; null where that is the frame of the fixes. */
  readonly frameReduction: BaseMove | null;
}

/** What the coordinates of bases are read in. */
export interface BaseSystems {
  /** Of the frame of the grid. */
  readonly ellipsoid: Ellipsoid;
  /** Of the frame of the fixes; absent where it is the same. */
  readonly fixesEllipsoid?: Ellipsoid;
  readonly shift?: ReductionShift | null;
  readonly grid: GridSystem | null;
  readonly geoid: GeoidModel | null;
}

/**
 * Resolves the bases of a session.
 *
 * Problems: config-missing where a coordinate is at the mark and the antenna height is absent, in
 * grid values without a grid, or orthometric without a geoid; config-invalid-value for a slant
 * shorter than its radius, and for a coordinate that would lie in the grid's area of use only with its two numbers exchanged or
 * with another sign; those of the grid for one outside its domain.
 *
 * @example
 * // A base that said it stood 5 m east of its mark, 1.6 m under its antenna: what its points are moved by.
 * const east = createGeodesic(WGS84).direct(0, 0, 90, 5);
 * const coordinate = { kind: 'geodetic', latitudeDeg: 0, longitudeDeg: 0, ellipsoidalHeightM: 0, at: 'mark' };
 * const broadcast = { ...coordinate, longitudeDeg: east.longitudeDeg, ellipsoidalHeightM: 1.6, at: 'arp' };
 * const sigmas = { sigmaHorizontalM: null, sigmaVerticalM: null, phaseCentreOffsetM: 0, fromMs: null, toMs: null };
 * const base = { id: 'B', broadcast, known: coordinate, antennaHeight: { kind: 'vertical', heightM: 1.6 }, ...sigmas };
 * const [prepared] = prepareBases([base], { ellipsoid: WGS84, grid: null, geoid: null }).value;
 * prepared.correction.local.eastM; // -5.000
 * prepared.correction.magnitudeM; // 5.000
 */
export function prepareBases(bases: readonly BaseSettings[], systems: BaseSystems): Outcome<readonly PreparedBase[]> {
  const prepared: PlacedBase[] = [];
  for (const [index, settings] of bases.entries()) {
    const outcome = prepareBase(settings, systems);
    if (!outcome.ok)
      return failureOf(
        outcome.problems.map((problem) => locateProblem(problem, { path: `base[${index}] (${settings.id})` })),
      );
    prepared.push(outcome.value);
  }
  return success(identified(prepared, systems.ellipsoid));
}

/** Bases that are known each by itself, told apart. `ellipsoid`: of the frame of the grid. */
export function identified(bases: readonly PlacedBase[], ellipsoid: Ellipsoid): readonly PreparedBase[] {
  const identities = setUpIdentities(
    bases.map(({ settings, origin }) => ({ settings, place: geodeticToGeocentric(origin.geodetic, ellipsoid) })),
  );
  return bases.map((base, index): PreparedBase => ({ ...base, identity: entryAt(identities, index) }));
}

/** The refusal of a known coordinate that was to be found elsewhere and is not here yet. */
function unsettledKnown({ known, knownFrom, knownIn, knownSinex }: BaseSettings): Problem | null {
  if (knownFrom !== undefined && known === null)
    return errorProblem('config-invalid-value', {
      message: `the coordinate is that of ${knownFrom.point} on ${knownFrom.day}, and there is no such day`,
      hint: 'a base by reference is of a job: reduce-points --job',
    });
  if (knownIn === undefined && knownSinex === undefined) return null;
  return errorProblem('config-invalid-value', {
    message: 'the known coordinate stands in another frame or in a SINEX file, which this command does not take over',
    hint: 'reduce-points does; or take it to the national frame with transform and type the result',
  });
}

function prepareBase(settings: BaseSettings, systems: BaseSystems): Outcome<PlacedBase> {
  const unsettled = unsettledKnown(settings);
  if (unsettled !== null) return failure(unsettled);
  const { ellipsoid } = systems;
  let antenna: AntennaHeight | null = null;
  if (settings.antennaHeight !== null || settings.broadcast.at === 'mark' || settings.known?.at === 'mark') {
    const outcome = antennaHeight(settings.antennaHeight);
    if (!outcome.ok) return outcome;
    antenna = outcome.value;
  }
  const fixesEllipsoid = systems.fixesEllipsoid ?? ellipsoid;
  const shift = systems.shift ?? null;
  // What was sent out is a set of numbers that the receivers took as a place on their own ellipsoid.
  const broadcast = arpOf(settings.broadcast, settings, antenna, { ...systems, ellipsoid: fixesEllipsoid });
  if (!broadcast.ok) return broadcast;
  const broadcastArp = geodeticToGeocentric(broadcast.value, fixesEllipsoid);
  const stated =
    settings.known ?? (shift !== null && settings.broadcast.frame === 'national' ? settings.broadcast : null);
  const isNational = shift !== null && stated !== null && stated.frame !== 'fixes';
  const known =
    stated === null
      ? null
      : arpOf(stated, settings, antenna, isNational ? systems : { ...systems, ellipsoid: fixesEllipsoid });
  if (known !== null && !known.ok) return known;
  const given = geodeticToGeocentric((known ?? broadcast).value, isNational ? ellipsoid : fixesEllipsoid);
  const framed = shift === null ? null : reduceBaseFrame(shift, given, isNational ? 'national' : 'fixes');
  if (framed !== null && !framed.ok) return framed;
  const frameReduction = framed?.value.reduction ?? null;
  const arp = frameReduction === null || !isNational ? given : frameReduction.baseInOrbitFrame;
  const arpGeodetic =
    framed === null || isNational ? (known ?? broadcast).value : geocentricToGeodetic(framed.value.national, ellipsoid);
  const frame = localFrameAt(arpGeodetic.latitudeDeg, arpGeodetic.longitudeDeg);
  const origin =
    antenna === null
      ? ({ geodetic: arpGeodetic, at: 'arp' } as const)
      : ({
          geodetic: { ...arpGeodetic, ellipsoidalHeightM: arpGeodetic.ellipsoidalHeightM - antenna.verticalM },
          at: 'mark',
        } as const);
  return success({
    settings,
    broadcastArp,
    arp,
    arpGeodetic,
    origin,
    frame,
    antenna,
    correction: known === null ? null : baseCorrection({ broadcastArp, knownArp: arp }, frame),
    frameReduction,
  });
}

/** A base coordinate carried to the antenna reference point along the ellipsoid normal. */
function arpOf(
  coordinate: BaseCoordinate,
  settings: BaseSettings,
  antenna: AntennaHeight | null,
  systems: BaseSystems,
): Outcome<GeodeticPoint> {
  const place = geodeticOf(coordinate, systems);
  if (!place.ok) return place;
  const doubt = doubtOf(coordinate, place.value, systems.grid, coordinate === settings.known ? 'known' : 'broadcast');
  if (doubt !== null) return failure(doubt);
  const rise =
    // A mark without an antenna was refused with the session.
    coordinate.at === 'mark' ? (antenna?.verticalM ?? 0) : coordinate.at === 'apc' ? -settings.phaseCentreOffsetM : 0;
  return success({ ...place.value, ellipsoidalHeightM: place.value.ellipsoidalHeightM + rise });
}

/** config-invalid-value where other numbers than these would make sense; a base merely outside the area of use is not doubted. */
function doubtOf(
  coordinate: BaseCoordinate,
  place: GeodeticPoint,
  grid: GridSystem | null,
  which: string,
): Problem | null {
  const doubt =
    (coordinate.kind === 'geocentric' ? implausibleGeocentric(coordinate, null) : null) ??
    areaDoubt(coordinate, place, grid);
  if (doubt?.severity !== 'error') return null;
  return errorProblem('config-invalid-value', {
    message: `${which}: ${doubt.message}`,
    hint: 'put the coordinate right in the session file; every baseline starts there',
  });
}

function areaDoubt(coordinate: BaseCoordinate, place: GeodeticPoint, grid: GridSystem | null): Problem | null {
  if (grid === null) return null;
  const [first, second] =
    coordinate.kind === 'grid'
      ? grid.axes.map((axis) => present(coordinate.values[axis.columnName], axis.columnName))
      : [];
  const pair = first === undefined || second === undefined ? null : { first, second };
  return placeDoubt('the base', place, pair, { grid, fixesSystem: grid.base });
}

function geodeticOf(coordinate: BaseCoordinate, systems: BaseSystems): Outcome<GeodeticPoint> {
  switch (coordinate.kind) {
    case 'geodetic':
      return success({
        latitudeDeg: coordinate.latitudeDeg,
        longitudeDeg: coordinate.longitudeDeg,
        ellipsoidalHeightM: coordinate.ellipsoidalHeightM,
      });
    case 'geocentric':
      return success(geocentricToGeodetic(coordinate, systems.ellipsoid));
    case 'geodetic-orthometric':
      return withOrthometric(coordinate.latitudeDeg, coordinate.longitudeDeg, coordinate.orthometricHeightM, systems);
    case 'grid':
      return geodeticOfGrid(coordinate, systems);
  }
}

function geodeticOfGrid(
  coordinate: Extract<BaseCoordinate, { kind: 'grid' }>,
  systems: BaseSystems,
): Outcome<GeodeticPoint> {
  const { grid } = systems;
  if (grid === null) {
    return failure(
      errorProblem('config-missing', {
        message: 'a base is given in grid coordinates and no grid system is set',
        hint: 'set system.grid',
      }),
    );
  }
  const names = grid.axes.map((axis) => axis.columnName);
  const given = Object.keys(coordinate.values);
  const first = coordinate.values[entryAt(names, 0)];
  const second = coordinate.values[entryAt(names, 1)];
  if (first === undefined || second === undefined || given.length !== 2) {
    return failure(
      errorProblem('config-invalid-value', {
        message: `${grid.name} has the axes ${names.join(', ')}; the base gives ${given.join(', ')}`,
        received: given.join(', '),
        expected: names.join(', '),
        hint: 'name the coordinates by the axes of the system; they are never exchanged silently',
      }),
    );
  }
  const pair = { latitudeDeg: NaN, longitudeDeg: NaN };
  const status = grid.inverse(first, second, pair);
  if (status !== 'ok') return failure(gridProblem(status, { first, second }, grid));
  const { height } = coordinate;
  return height.kind === 'ellipsoidal'
    ? success({ ...pair, ellipsoidalHeightM: height.ellipsoidalHeightM })
    : withOrthometric(pair.latitudeDeg, pair.longitudeDeg, height.orthometricHeightM, systems);
}

function withOrthometric(
  latitudeDeg: number,
  longitudeDeg: number,
  orthometricHeightM: number,
  systems: BaseSystems,
): Outcome<GeodeticPoint> {
  const { geoid } = systems;
  if (geoid === null) {
    return failure(
      errorProblem('config-missing', {
        message: 'a base has an orthometric height and no geoid is set',
        hint: 'set height.geoid',
      }),
    );
  }
  const geoidHeight = geoid.heightAt(latitudeDeg, longitudeDeg);
  if (geoidHeight === null) {
    const status = geoid.statusAt(latitudeDeg, longitudeDeg);
    return failure(geoidProblem(status === 'nodata' ? 'nodata' : 'outside', latitudeDeg, longitudeDeg, geoid.grid));
  }
  return success({
    latitudeDeg,
    longitudeDeg,
    ellipsoidalHeightM: ellipsoidalHeightM(orthometricHeightM, geoidHeight),
  });
}
