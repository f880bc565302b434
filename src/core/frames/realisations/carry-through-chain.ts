import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import { outsideVelocities } from '../plates/outside-velocities.js';
import { movedPoint } from '../plates/point-motion.js';
import { applyShift } from '../shifts/shift-apply.js';
import type { RealisationChain } from './realisation-chain.js';

/** A point of the international frame in the national one. Given: metres. Problems: those of the operations. */
export function carryThroughChain(chain: RealisationChain, point: GeocentricPoint): Outcome<GeocentricPoint> {
  let at = point;
  for (const link of chain.links) {
    if (link.kind === 'motion') {
      const moved = movedPoint(at, link.motion);
      if (moved === null) return failure(outsideVelocities(link.motion.by));
      at = moved;
      continue;
    }
    const shifted = applyShift(link.match.operation.shift, at, link.epochYear, link.match.direction);
    if (!shifted.ok) return shifted;
    at = shifted.value;
  }
  return success(at);
}
