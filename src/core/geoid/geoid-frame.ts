/** Whether a geoid grid is given in the frame of the positions; `unknown` where the grid does not say. */
export type FrameAgreement = 'agrees' | 'differs' | 'unknown';

/**
 * Compares the frame a grid states with the frame of the positions.
 *
 * Given: `GeoidGrid.frame`; every code that names the positions' system, such as the
 * two-dimensional and three-dimensional codes of one frame (`EPSG:4148`, `EPSG:4941`).
 * Returned: `agrees`, `differs` or `unknown`. What follows is the caller's: the frames of one
 * region often differ by centimetres in height, so `differs` is refused (`grid-frame-mismatch`)
 * unless the settings accept it by name. See docs/methods/geoid.md, "The frame of the grid".
 * Notes: codes are compared as text without regard to case; no two codes are held equal by
 * themselves, not even two realisations of WGS 84.
 */
export function frameAgreement(gridFrame: string | null, positionCodes: readonly string[]): FrameAgreement {
  if (gridFrame === null) return 'unknown';
  const wanted = gridFrame.toUpperCase();
  return positionCodes.some((code) => code.toUpperCase() === wanted) ? 'agrees' : 'differs';
}
