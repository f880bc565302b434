import { motionName, movedPoint } from '../../../core/frames/plates/point-motion.js';
import type { Motion, MotionBy } from '../../../core/frames/plates/point-motion.js';
import type { Step, Way } from '../step.js';

/** Points carried from one epoch to another, by their plate or by a velocity. Back: the years exchanged. */
export function motionStep({ fromYear, toYear, by }: Motion): Step {
  const name = motionName(by);
  const id = by.kind === 'plate' ? `plate:${by.pole.code}` : 'velocity';
  return {
    forward: motionWay(by, fromYear, toYear),
    inverse: motionWay(by, toYear, fromYear),
    said: (direction) => {
      const [start, end] = direction === 'forward' ? [fromYear, toYear] : [toYear, fromYear];
      return [`moved from epoch ${String(start)} to ${String(end)}: ${name}${rateWords(by)}`];
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

function motionWay(by: MotionBy, startYear: number, endYear: number): Way {
  return {
    needs: 'geocentric',
    gives: 'geocentric',
    run(point) {
      const { xM, yM, zM } = movedPoint(point, by, startYear, endYear);
      point.xM = xM;
      point.yM = yM;
      point.zM = zM;
      return null;
    },
  };
}
