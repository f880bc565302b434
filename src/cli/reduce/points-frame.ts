import type { ReductionSetup } from '../../tasks/reduction-setup.js';
import type { createPointsWriter } from '../points-writer.js';

/** The frame of the points: that of the grid after a shift, whose coordinates move with their plate. */
export function pointsFrame({ fixesSystem, grid, shift }: ReductionSetup, epochYear: number | null): Parameters<typeof createPointsWriter>[3] {
  const system = shift === null || grid === null ? fixesSystem : grid.base;
  return { frame: system.code ?? system.name, epochYear: shift === null ? epochYear : null, system: grid?.code ?? grid?.name ?? '' };
}
