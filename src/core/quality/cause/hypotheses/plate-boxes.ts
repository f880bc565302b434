import type { CausePoint } from '../cause-day.js';

/** South, west, north, east, degrees; east below west runs over 180°. */
type Box = readonly [number, number, number, number];

/**
 * Generous boxes about the plates, by code. They overlap: they only keep a plate on the other side of the world from being
 * tried. From memory, coarse.
 */
const BOXES: Readonly<Record<string, Box>> = {
  ANTA: [-90, -180, -55, 180],
  ARAB: [10, 33, 40, 61],
  AUST: [-55, 65, 5, -170],
  EURA: [0, -30, 90, 180],
  INDI: [-10, 60, 38, 98],
  NAZC: [-50, -115, 8, -70],
  NOAM: [10, 140, 90, -25],
  NUBI: [-50, -35, 40, 42],
  PCFC: [-68, 130, 65, -105],
  SOAM: [-62, -95, 18, -15],
  SOMA: [-50, 25, 18, 65],
};

/** Whether a plate is near enough to a point to carry it; true where the place is not known. */
export function isNearPlate(code: string, point: CausePoint | null): boolean {
  const box = BOXES[code];
  const latitudeDeg = point?.latitudeDeg ?? null;
  const longitudeDeg = point?.longitudeDeg ?? null;
  if (box === undefined || latitudeDeg === null || longitudeDeg === null) return true;
  const [south, west, north, east] = box;
  const isInside =
    west <= east ? longitudeDeg >= west && longitudeDeg <= east : longitudeDeg >= west || longitudeDeg <= east;
  return isInside && latitudeDeg >= south && latitudeDeg <= north;
}
