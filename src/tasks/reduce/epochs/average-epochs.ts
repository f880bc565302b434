import { geocentricToLocal, localFrameAt, localToGeocentric } from '../../../core/ellipsoid/local-frame.js';
import type { LocalFrame } from '../../../core/ellipsoid/local-frame.js';
import { median } from '../../../core/numeric/median.js';
import type { ExpectedScatter } from '../../../core/observation/averaging/expected-scatter.js';
import { robustAverage } from '../../../core/observation/averaging/robust-average.js';
import type { RobustAverage } from '../../../core/observation/averaging/robust-average.js';
import type { Fix } from '../../../records/points/fix.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { RecordList } from '../../../records/record-list.js';
import type { ReducedEpoch } from '../reduction-working.js';
import { entryAt } from '../../../records/present.js';

/** The accepted epochs of an occupation in one local frame, and their robust mean. */
export interface AveragedEpochs {
  readonly frame: LocalFrame;
  /** Pole tips, metres from `origin`, one for each accepted epoch. */
  readonly east: Float64Array;
  readonly north: Float64Array;
  readonly up: Float64Array;
  readonly timesS: Float64Array;
  readonly expected: ExpectedScatter;
  readonly average: RobustAverage;
  readonly mean: GeocentricPoint;
}

/**
 * Averages the tips of several accepted epochs: in metres about the first, never in degrees or in the grid.
 *
 * Given: epochs and their fixes in order; what epochs about a place are expected to scatter over so many seconds.
 */
export function averageEpochs(
  epochs: RecordList<ReducedEpoch>,
  fixes: RecordList<Fix>,
  expect: (middle: GeocentricPoint, spanS: number) => ExpectedScatter,
): AveragedEpochs | null {
  const first = epochs.at(0);
  if (first === undefined) return null;
  const origin = first.tip;
  const frame = localFrameAt(first.geodetic.latitudeDeg, first.geodetic.longitudeDeg);
  const count = epochs.length;
  const east = new Float64Array(count);
  const north = new Float64Array(count);
  const up = new Float64Array(count);
  const timesS = new Float64Array(count);
  // Without times the epochs count as of one instant: nothing is averaged out.
  const startMs = fixes.at(0)?.epochMs ?? 0;
  for (let i = 0; i < count; i += 1) {
    const tip = epochs.at(i)?.tip ?? origin;
    const local = geocentricToLocal(frame, { xM: tip.xM - origin.xM, yM: tip.yM - origin.yM, zM: tip.zM - origin.zM });
    east[i] = local.eastM;
    north[i] = local.northM;
    up[i] = local.upM;
    // Without times the epochs count as of one instant: nothing is averaged out.
    timesS[i] = ((fixes.at(i)?.epochMs ?? 0) - startMs) / 1000;
  }
  const from = (eastM: number, northM: number, upM: number): GeocentricPoint => {
    const shift = localToGeocentric(frame, { eastM, northM, upM });
    return { xM: origin.xM + shift.xM, yM: origin.yM + shift.yM, zM: origin.zM + shift.zM };
  };
  const expected = expect(from(ofThree(east), ofThree(north), ofThree(up)), entryAt(timesS, count - 1));
  const average = robustAverage(east, north, up, expected);
  return {
    frame,
    east,
    north,
    up,
    timesS,
    expected,
    average,
    mean: from(average.eastM, average.northM, average.upM),
  };
}

/** The middle one of the first, the middle and the last value: a place near enough to expect a scatter at. */
function ofThree(values: Float64Array): number {
  return median([entryAt(values, 0), entryAt(values, values.length >> 1), entryAt(values, values.length - 1)]);
}
