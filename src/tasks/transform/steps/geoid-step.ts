import { geoidLines } from '../../explain/lines/geoid-lines.js';
import { placeLine } from '../../explain/projection/grid-lines.js';
import { INPUT, METRES, given, together, worked } from '../../explain/lines/worked-lines.js';
import type { GeoidModel } from '../../../core/geoid/geoid-height.js';
import { geoidIdentityWords } from '../../../core/geoid/geoid-test-value.js';
import { geoidProblem } from '../../../core/geoid/geoid-problem.js';
import { ellipsoidalHeightM, orthometricHeightM } from '../../../core/geoid/orthometric-height.js';
import type { GeographicPair } from '../../../core/grid/systems/grid-system.js';
import type { Problem } from '../../../records/problem.js';
import type { Step } from '../step.js';

/**
 * Orthometric to ellipsoidal height by h = H + N; backwards H = h − N. A height that is not known stays so.
 * Given: the geoid; the frame the user states it to be given in, or null. Problems: those of `geoidProblem`.
 */
export function geoidStep(geoid: GeoidModel, statedFrame: string | null): Step {
  return {
    forward: {
      needs: 'place',
      gives: 'place',
      run(point) {
        if (point.orthometricHeightM === null) return null;
        const n = geoid.heightAt(point.latitudeDeg, point.longitudeDeg);
        if (n === null) return noGeoid(geoid, point);
        point.geoidHeightM = n;
        point.ellipsoidalHeightM = ellipsoidalHeightM(point.orthometricHeightM, n);
        return null;
      },
    },
    inverse: {
      needs: 'place',
      gives: null,
      run(point) {
        if (point.ellipsoidalHeightM === null) return null;
        const n = geoid.heightAt(point.latitudeDeg, point.longitudeDeg);
        if (n === null) return noGeoid(geoid, point);
        point.geoidHeightM = n;
        point.orthometricHeightM = orthometricHeightM(point.ellipsoidalHeightM, n);
        return null;
      },
    },
    said: () => [
      `geoid ${geoid.grid.name}, ${geoid.interpolation}, ${frameWords(geoid, statedFrame)} (${geoidIdentityWords(geoid.grid)})`,
    ],
    working: (direction, before, { geoidHeightM, ellipsoidalHeightM: h, orthometricHeightM: H }) =>
      geoidHeightM === null || h === null || H === null
        ? []
        : [
            {
              title: null,
              source: null,
              formula: direction === 'forward' ? 'h = H + N' : 'H = h − N',
              lines: [
                placeLine(before.latitudeDeg, before.longitudeDeg),
                ...geoidLines(geoid, before.latitudeDeg, before.longitudeDeg, geoidHeightM),
                direction === 'forward'
                  ? together(given('H', H, INPUT), worked('h', 'H + N', h, METRES))
                  : together(given('h', h, INPUT), worked('H', 'h − N', H, METRES)),
              ],
            },
          ],
    recorded: () => [],
  };
}

function frameWords({ grid }: GeoidModel, statedFrame: string | null): string {
  if (statedFrame !== null) return `taken to be given in ${statedFrame}`;
  return grid.frame === null ? 'its frame not stated' : `given in ${grid.frame}`;
}

function noGeoid(geoid: GeoidModel, { latitudeDeg, longitudeDeg }: GeographicPair): Problem {
  return geoidProblem(
    geoid.statusAt(latitudeDeg, longitudeDeg) === 'nodata' ? 'nodata' : 'outside',
    latitudeDeg,
    longitudeDeg,
    geoid.grid,
  );
}
