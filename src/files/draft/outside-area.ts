import { isInsideArea } from '../../core/grid/systems/area-of-use.js';
import { warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { WorkBox } from '../../tasks/draft/draft-line.js';
import { loadGridSystem } from '../systems/load-systems.js';

/** coordinate-outside-area, a warning, where the work does not lie in the area of use of the grid that was answered; else none. */
export function outsideArea(box: WorkBox, grid: string): readonly Problem[] {
  const system = loadGridSystem(grid);
  const area = system.ok ? system.value.areaOfUse : null;
  if (!system.ok || area === null) return [];
  const latitudeDeg = (box.southDeg + box.northDeg) / 2;
  const longitudeDeg = (box.westDeg + box.eastDeg) / 2;
  if (isInsideArea(area, latitudeDeg, longitudeDeg)) return [];
  const readings: readonly (readonly [string, number, number])[] = [
    ['longitudes of the other sign', latitudeDeg, -longitudeDeg],
    ['latitudes of the other sign', -latitudeDeg, longitudeDeg],
    ['both of the other sign', -latitudeDeg, -longitudeDeg],
    ['latitude and longitude exchanged', longitudeDeg, latitudeDeg],
  ];
  const fitting = readings.filter(([, north, east]) => Math.abs(north) <= 90 && isInsideArea(area, north, east));
  return [
    warningProblem('coordinate-outside-area', {
      message: `the fixes lie outside the area of use of ${system.value.name}: ${area.description}`,
      hint:
        fitting.length === 0
          ? 'check the system'
          : `they would lie in it with ${fitting.map(([what]) => what).join(', or with ')}: check the columns`,
    }),
  ];
}
