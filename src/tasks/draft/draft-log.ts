import type { Fix } from '../../records/points/fix.js';
import { baseLines } from './draft-bases.js';
import type { Answers, Draft, WorkBox } from './draft-line.js';
import { roverLines } from './draft-rover.js';
import { systemLines } from './draft-system.js';
import type { SystemCandidates } from './draft-system.js';

/** Drafts a session from the fixes of an NMEA 0183 log: it has no columns to map. */
export function draftOfLog(
  fixes: readonly Fix[],
  { candidates, answers }: { readonly candidates: (box: WorkBox) => SystemCandidates; readonly answers: Answers },
): Draft {
  const box = boxOf(fixes);
  const found = box === null ? null : candidates(box);
  const epochs = fixes.flatMap(({ stationId, epochMs }) =>
    stationId === undefined ? [] : [{ id: stationId, ms: epochMs }],
  );
  return {
    box,
    lines: [
      ...systemLines({ kind: 'geographic', box, height: 'ellipsoidal' }, found),
      ...roverLines({ hasPole: false, hasReferencePoint: true, tilt: null, isLog: true }, answers),
      ...baseLines(epochs, 'station of the corrections'),
      { path: ['acceptance', 'solution'], value: ['fixed'], why: [solutionsText(fixes)] },
    ],
  };
}

function solutionsText(fixes: readonly Fix[]): string {
  const counts = new Map<string, number>();
  for (const { solution } of fixes) counts.set(solution ?? 'none', (counts.get(solution ?? 'none') ?? 0) + 1);
  return `solutions that are used; the log has ${[...counts].map(([word, count]) => `${word} ${String(count)}`).join(', ')}`;
}

function boxOf(fixes: readonly Fix[]): WorkBox | null {
  if (fixes.length === 0) return null;
  const box = { southDeg: Infinity, northDeg: -Infinity, westDeg: Infinity, eastDeg: -Infinity };
  for (const { geodetic } of fixes) {
    box.southDeg = Math.min(box.southDeg, geodetic.latitudeDeg);
    box.northDeg = Math.max(box.northDeg, geodetic.latitudeDeg);
    box.westDeg = Math.min(box.westDeg, geodetic.longitudeDeg);
    box.eastDeg = Math.max(box.eastDeg, geodetic.longitudeDeg);
  }
  return box;
}
