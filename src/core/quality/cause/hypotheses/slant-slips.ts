import { antennaHeight } from '../../../observation/antenna-height.js';
import type { CauseAntenna } from '../cause-day.js';

/** What mixing slant and vertical does to all heights of a base: of stated size, and what it may be where none is stated. */
export interface SlantSlips {
  readonly known: readonly { readonly words: string; readonly tooHighM: number }[];
  /** Null where the size is known. */
  readonly range: { readonly leastM: number; readonly mostM: number } | null;
}

/** Plates of survey antennas, metres: the rim's radius and its height over the reference point. From memory, coarse. */
const SMALLEST_RADIUS_M = 0.05;
const LARGEST_RADIUS_M = 0.25;
const LARGEST_OFFSET_M = 0.1;
/** Antenna height used where none is stated, metres. An assumption. */
const USUAL_HEIGHT_M = 1.5;

/**
 * By how much heights come out too high when a slant height of the base antenna is taken as vertical, or too low when a
 * vertical one is reduced as a slant.
 *
 * Given: the antenna as the session states it; null: not stated. Returned: metres, up positive. A slant s to a rim of
 * radius r, v over the reference point, is really √(s² − r²) − v: taken as vertical it is s too high by s − that.
 * Reference: Pythagoras; common practice, no published source.
 */
export function slantSlips(antenna: CauseAntenna | null): SlantSlips {
  if (antenna !== null && antenna.kind === 'slant') {
    return {
      known: [
        {
          words: `${metres(antenna.heightM)} was vertical and was reduced as a slant`,
          tooHighM: antenna.verticalM - antenna.heightM,
        },
      ],
      range: null,
    };
  }
  const heightM = antenna?.heightM ?? USUAL_HEIGHT_M;
  // No antenna is named, or none of its plates is known.
  const known = (antenna?.plates ?? []).flatMap(({ radiusM, offsetM }) => {
    const really = antennaHeight({ kind: 'slant', slantM: heightM, radiusM, offsetM });
    return really.ok
      ? [
          {
            words: `${metres(heightM)} was a slant to a rim of radius ${metres(radiusM)}, ${metres(offsetM)} over the reference point`,
            tooHighM: heightM - really.value.verticalM,
          },
        ]
      : [];
  });
  if (known.length > 0) return { known, range: null };
  const sag = (radiusM: number): number => heightM - Math.sqrt(Math.max(0, (heightM - radiusM) * (heightM + radiusM)));
  return { known: [], range: { leastM: sag(SMALLEST_RADIUS_M), mostM: sag(LARGEST_RADIUS_M) + LARGEST_OFFSET_M } };
}

function metres(value: number): string {
  return `${String(value)} m`;
}
