import type {
  AntennaPlate,
  CauseAntenna,
  CauseBase,
  CauseDay,
  CausePoint,
} from '../../../core/quality/cause/cause-day.js';
import { frameShiftsOf } from '../../../core/quality/cause/hypotheses/frame-shift.js';
import { likelyCause, MOST_CAUSE_POINTS } from '../../../core/quality/cause/likely-cause.js';
import type { CauseReport } from '../../../core/quality/cause/likely-cause.js';
import { ZERO_COVARIANCE } from '../../../core/observation/uncertainty/local-covariance.js';
import type { DayVariance } from '../../../records/reports/parts/day-variance.js';
import type { RecordList } from '../../../records/record-list.js';
import { addedByDay } from '../../repeats/added-by-day.js';
import { baseNamed } from '../../bases/choose-base.js';
import type { CheckRow, CheckSetup } from './check-tolerances-setup.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import { recordAt } from '../../reduce/packing/packed-records.js';
import { anyOf, listWhere } from '../../reduce/record-search.js';

/** A pair and a latitude and longitude nearer than this are one place: both are written to a tenth of a millimetre. */
const SAME_PLACE_M = 0.01;

/** The search for a cause over the control residuals, and whether it saw all of them. */
export interface CauseSearch {
  readonly report: CauseReport;
  readonly points: number;
  readonly thinnedFrom: number | null;
  /** One sigma of the geoid model that heights were compared by; null: none was, or none is stated. */
  readonly geoidSigmaM: number | null;
}

/** Searches the control rows of a run for one cause, in the noise that repeats show where `day` is noisier; null where there is nothing to search. */
export function searchCause(
  rows: RecordList<CheckRow>,
  setup: CheckSetup,
  day: DayVariance | null,
): CauseSearch | null {
  const usable = listWhere(
    rows,
    (row) => row.check === 'control' && row.covariance !== null && (row.firstM !== null || row.upM !== null),
  );
  if (usable.length === 0) return null;
  const step = Math.ceil(usable.length / MOST_CAUSE_POINTS);
  const used = Array.from({ length: Math.ceil(usable.length / step) }, (_, place) => recordAt(usable, place * step));
  const report = likelyCause(causeDay(used, setup, day?.isNoisier === true ? day : null));
  if (report === null) return null;
  // A check beyond its limit wants an explanation, though all of them together agree with their uncertainty.
  const verdict =
    report.verdict === 'nothing-to-explain' &&
    anyOf(rows, (row) => row.check === 'control' && row.verdict === 'exceeds')
      ? 'no-single-cause'
      : report.verdict;
  return {
    report: { ...report, verdict },
    points: used.length,
    thinnedFrom: step > 1 ? usable.length : null,
    geoidSigmaM: anyOf(usable, ({ heightKind }) => heightKind === 'orthometric') ? setup.geoidSigmaM : null,
  };
}

function causeDay(rows: readonly CheckRow[], setup: CheckSetup, day: DayVariance | null): CauseDay {
  const { signs } = setup.axes;
  const kinds = new Set(rows.map((row) => row.heightKind).filter((kind) => kind !== null));
  const distances = rows.flatMap((row) => (row.distanceM === null ? [] : [row.distanceM]));
  const middleM =
    distances.length === 0 ? 20_000 : distances.reduce((sum, distance) => sum + distance, 0) / distances.length;
  const times = setup.precision.at(middleM, null);
  const bases = new Map<string, CauseBase>();
  const plates = setup.bases.flatMap(({ antenna }): readonly AntennaPlate[] =>
    antenna?.slant ? [{ radiusM: antenna.slant.radiusM, offsetM: antenna.slant.offsetM }] : [],
  );
  for (const { settings, origin, antenna, identity } of setup.bases) {
    bases.set(identity.setupKey, {
      name: identity.setupName,
      markKey: identity.markKey,
      markSigmas: identity.mark,
      latitudeDeg: origin.geodetic.latitudeDeg,
      longitudeDeg: origin.geodetic.longitudeDeg,
      sigmaHorizontalM: settings.sigmaHorizontalM,
      sigmaVerticalM: settings.sigmaVerticalM,
      antenna: antennaOf({ settings, antenna }, plates),
    });
  }
  const placed = rows.find(({ known }) => known?.latitudeDeg != null && known.longitudeDeg !== null)?.known;
  const frameShifts =
    setup.grid === null || placed?.latitudeDeg == null || placed.longitudeDeg === null
      ? []
      : frameShiftsOf(
          setup.grid,
          {
            latitudeDeg: placed.latitudeDeg,
            longitudeDeg: placed.longitudeDeg,
            // Which shifts hold at a place does not hang on its height.
            ellipsoidalHeightM: placed.ellipsoidalHeightM ?? 0,
          },
          setup.epochYear,
        );
  return {
    points: rows.map((row) => ({
      ...pointOf(row, setup),
      ...(day !== null && { dayNoise: addedByDay(row, day, setup.precision) }),
    })),
    heightKind: kinds.size === 1 ? ([...kinds][0] ?? null) : null,
    bases,
    axisSigns: signs,
    metresPerUnit: setup.axes.metresPerUnit,
    correlationHorizontalS: times.correlationHorizontalS,
    correlationVerticalS: times.correlationVerticalS,
    // Not stated: it adds nothing, and the summary says what is missing.
    geoidSigmaM: setup.geoidSigmaM ?? 0,
    phaseCentreOffsetsM: setup.phaseCentreOffsetsM,
    isTiltMeasured: setup.isTiltMeasured,
    largestLeanDeg: setup.largestLeanDeg,
    frameShifts,
    ellipsoid: setup.ellipsoid,
    isMeasuredSound: areSound(rows, setup),
    forward: setup.grid?.forward ?? null,
    inverse: setup.grid?.inverse ?? null,
    otherZones: setup.otherZones,
  };
}

/** Whether every measured point gives its pair and its latitude and longitude, and the one is the other's in the system. */
function areSound(rows: readonly CheckRow[], { grid, axes }: CheckSetup): boolean {
  const pair = { first: NaN, second: NaN };
  return (
    grid !== null &&
    rows.every(({ measured }) => {
      if (measured === null) return false;
      const { gridFirst, gridSecond, latitudeDeg, longitudeDeg } = measured.row;
      return (
        gridFirst !== null &&
        gridSecond !== null &&
        latitudeDeg !== null &&
        longitudeDeg !== null &&
        grid.forward(latitudeDeg, longitudeDeg, pair) === 'ok' &&
        Math.hypot(pair.first - gridFirst, pair.second - gridSecond) * axes.metresPerUnit < SAME_PLACE_M
      );
    })
  );
}

/** The antenna as the session states it; a vertical height could have been a slant to any rim that the session states. */
function antennaOf(
  { settings, antenna }: Pick<PreparedBase, 'settings' | 'antenna'>,
  plates: readonly AntennaPlate[],
): CauseAntenna | null {
  const { antennaHeight } = settings;
  if (antennaHeight === null || antenna === null) return null;
  if (antennaHeight.kind === 'slant')
    return { kind: 'slant', heightM: antennaHeight.slantM, verticalM: antenna.verticalM, plates: [] };
  const different = plates.filter(
    (plate, index) =>
      plates.findIndex(({ radiusM, offsetM }) => radiusM === plate.radiusM && offsetM === plate.offsetM) === index,
  );
  return { kind: 'vertical', heightM: antennaHeight.heightM, verticalM: antenna.verticalM, plates: different };
}

function pointOf(row: CheckRow, setup: CheckSetup): CausePoint {
  const [eastSign, northSign] = setup.axes.signs;
  // Not stated: it adds nothing, and the summary says what is missing.
  const geoidSigmaM = setup.geoidSigmaM ?? 0;
  const { measured, known, vector } = row;
  const from = measured?.row ?? null;
  // Not stated: it adds nothing, and the summary says what is missing.
  const horizontalM2 = (known?.row.sigmaHorizontalM ?? 0) ** 2;
  // Not stated: it adds nothing, and the summary says what is missing.
  const verticalM2 = (known?.row.sigmaVerticalM ?? 0) ** 2;
  const covariance = row.covariance ?? ZERO_COVARIANCE;
  const start = from?.firstEpochMs ?? null;
  const end = from?.lastEpochMs ?? start;
  return {
    pointId: row.pointId,
    occupation: row.occupation,
    eastM: row.firstM === null ? null : eastSign * row.firstM,
    northM: row.secondM === null ? null : northSign * row.secondM,
    upM: row.upM,
    latitudeDeg: known?.latitudeDeg ?? null,
    longitudeDeg: known?.longitudeDeg ?? null,
    // Without a grid, north is true.
    convergenceDeg: known?.convergenceDeg ?? 0,
    pointScaleFactor: known?.pointScaleFactor ?? 1,
    combinedFactor: measured?.combinedFactor ?? known?.combinedFactor ?? null,
    knownFirstM: known?.firstM ?? null,
    knownSecondM: known?.secondM ?? null,
    knownHeightM:
      row.heightKind === 'ellipsoidal' ? (known?.ellipsoidalHeightM ?? null) : (known?.orthometricHeightM ?? null),
    geoidHeightM: known?.geoidHeightM ?? measured?.geoidHeightM ?? null,
    baseId: from === null ? null : (baseNamed(from, setup.bases)?.identity.setupKey ?? from.baseId),
    distanceM: row.distanceM,
    azimuthDeg: vector?.azimuthDeg ?? null,
    heightDifferenceM: vector?.heightDifferenceM ?? null,
    middleMs: start === null || end === null ? null : (start + end) / 2,
    poleLengthM: from?.poleLengthM ?? null,
    tiltDeg:
      from === null
        ? null
        : (from.tiltDeg ??
          setup.tilts.get(`${from.pointId}@${from.occupation === '' ? '1' : from.occupation}`) ??
          null),
    // The row's covariance holds the control's and the geoid's too; they are given apart.
    covariance: {
      ...covariance,
      eeM2: Math.max(0, covariance.eeM2 - horizontalM2),
      nnM2: Math.max(0, covariance.nnM2 - horizontalM2),
      uuM2: Math.max(0, covariance.uuM2 - verticalM2 - (row.heightKind === 'orthometric' ? geoidSigmaM ** 2 : 0)),
    },
    controlHorizontalM2: horizontalM2,
    controlVerticalM2: verticalM2,
  };
}
