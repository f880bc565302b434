import { moveByVelocity, movePoint } from '../../../core/frames/plates/plate-motion.js';
import type { GeocentricVelocity } from '../../../core/frames/plates/plate-motion.js';
import type { PlatePole } from '../../../core/frames/plates/plate-pole.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { Step, Way } from '../step.js';

/** A motion of points in time, within one frame. */
export interface Motion {
  readonly fromYear: number;
  readonly toYear: number;
  readonly by:
    | { readonly kind: 'plate'; readonly pole: PlatePole }
    | { readonly kind: 'velocity'; readonly velocity: GeocentricVelocity };
}

/** Points carried from one epoch to another, by their plate or by a velocity. Back: the years exchanged. */
export function motionStep({ fromYear, toYear, by }: Motion): Step {
  const name = by.kind === 'plate' ? `${by.pole.model}, ${by.pole.name} plate` : 'velocity given';
  const id = by.kind === 'plate' ? `plate:${by.pole.code}` : 'velocity';
  return {
    forward: motionWay(by, fromYear, toYear),
    inverse: motionWay(by, toYear, fromYear),
    said: (direction) => {
      const [start, end] = direction === 'forward' ? [fromYear, toYear] : [toYear, fromYear];
      return [`moved from epoch ${String(start)} to ${String(end)}: ${name}`];
    },
    recorded: (direction) => {
      const [start, end] = direction === 'forward' ? [fromYear, toYear] : [toYear, fromYear];
      return [{ id, name: `${name}, ${String(start)} to ${String(end)}` }];
    },
  };
}

function motionWay(by: Motion['by'], startYear: number, endYear: number): Way {
  const moved = (point: GeocentricPoint): GeocentricPoint =>
    by.kind === 'plate'
      ? movePoint(point, by.pole, startYear, endYear)
      : moveByVelocity(point, by.velocity, startYear, endYear);
  return {
    needs: 'geocentric',
    gives: 'geocentric',
    run(point) {
      const { xM, yM, zM } = moved(point);
      point.xM = xM;
      point.yM = yM;
      point.zM = zM;
      return null;
    },
  };
}
