import { motionWorking } from '../working/motion-working.js';
import { outsideVelocities } from '../../../core/frames/plates/outside-velocities.js';
import { motionName, movedBack, movedPoint } from '../../../core/frames/plates/point-motion.js';
import type { Motion, MotionBy } from '../../../core/frames/plates/point-motion.js';
import type { Step, Way } from '../step.js';

/** Points carried from one epoch to another, by their plate or by a velocity. Back: the years exchanged. */
export function motionStep(motion: Motion): Step {
  const { fromYear, toYear, by } = motion;
  const name = motionName(by);
  const id = by.kind === 'plate' ? `plate:${by.pole.code}` : by.kind === 'grid' ? 'velocity-grid' : 'velocity';
  return {
    forward: motionWay(motion, movedPoint),
    inverse: motionWay(motion, movedBack),
    said: (direction) => {
      const [start, end] = direction === 'forward' ? [fromYear, toYear] : [toYear, fromYear];
      return [`moved from epoch ${String(start)} to ${String(end)}: ${name}${rateWords(by)}`];
    },
    working: (direction, before, after) => {
      const [start, end] = direction === 'forward' ? [fromYear, toYear] : [toYear, fromYear];
      return [motionWorking(by, start, end, before, after)];
    },
    recorded: (direction) => {
      const [start, end] = direction === 'forward' ? [fromYear, toYear] : [toYear, fromYear];
      return [{ id, name: `${name}, ${String(start)} to ${String(end)}` }];
    },
  };
}

/** What the model states of itself. */
function rateWords(by: MotionBy): string {
  if (by.kind !== 'plate') return ', accuracy not stated';
  return `, accuracy ${String(Math.round(by.pole.sigmaMPerYear * 1e5) / 100)} mm a year on the stable inside of the plate`;
}

function motionWay(motion: Motion, move: typeof movedPoint): Way {
  return {
    needs: 'geocentric',
    gives: 'geocentric',
    run(point) {
      const moved = move(point, motion);
      if (moved === null) return outsideVelocities(motion.by);
      point.xM = moved.xM;
      point.yM = moved.yM;
      point.zM = moved.zM;
      return null;
    },
  };
}
