import { geocentricToLocal, localFrameAt } from '../../../core/ellipsoid/local-frame.js';
import { antennaMoving } from '../../../core/observation/stand-tests/antenna-moving.js';
import type { Fix } from '../../../records/points/fix.js';
import type { RecordList } from '../../../records/record-list.js';
import { recordAt } from '../packing/packed-records.js';
import type { ReducedEpoch } from '../reduction-working.js';

/**
 * The most that a solution that is not fixed wanders against itself within seconds to a minute, one sigma per axis,
 * metres. Its error is larger but changes slowly. From memory.
 */
const WANDER = { horizontalM: 0.4, verticalM: 0.8 };
const LEAST_EPOCHS = 6;

/**
 * Whether the antenna walked, judged on all epochs, refused ones too: where no epoch was accepted,
 * or where the point is only named after its log, so that nothing says the antenna stood still.
 */
export function unfixedMotion(fixes: RecordList<Fix>, epochs: RecordList<ReducedEpoch>): boolean {
  const origin = epochs.at(0);
  if (origin === undefined || epochs.length < LEAST_EPOCHS) return false;
  const frame = localFrameAt(origin.geodetic.latitudeDeg, origin.geodetic.longitudeDeg);
  const timesS = new Float64Array(epochs.length);
  const east = new Float64Array(epochs.length);
  const north = new Float64Array(epochs.length);
  const up = new Float64Array(epochs.length);
  // Without times nothing is said of speed.
  const startMs = fixes.at(0)?.epochMs ?? 0;
  for (let index = 0; index < epochs.length; index += 1) {
    const epochMs = fixes.at(index)?.epochMs ?? null;
    if (epochMs === null) return false;
    const { tip } = recordAt(epochs, index);
    const local = geocentricToLocal(frame, {
      xM: tip.xM - origin.tip.xM,
      yM: tip.yM - origin.tip.yM,
      zM: tip.zM - origin.tip.zM,
    });
    timesS[index] = (epochMs - startMs) / 1000;
    east[index] = local.eastM;
    north[index] = local.northM;
    up[index] = local.upM;
  }
  return antennaMoving({ timesS, east, north, up }, WANDER).isMoving;
}
