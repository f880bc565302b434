import { ANTENNA, BASE_COORDINATE, LINK, SITING, STREAM } from './worked/base.js';
import { ELLIPSE, FIVE_SECONDS } from './worked/ellipse.js';
import { FRAMES } from './worked/frames.js';
import { HEIGHTS, LENGTHS, SKY, THREE_HEIGHTS } from './worked/lengths.js';
import { NETWORK } from './worked/network.js';
import { SITE } from './worked/site.js';
import type { Worked } from './worked-numbers.js';

/** Numbers of the lessons that no equation beside them tells, by page, each with what it is computed from. */
export const WORKED: Readonly<Record<string, readonly Worked[]>> = {
  'adjustment-and-reliability.md': NETWORK,
  'antenna-to-tip.md': ANTENNA,
  'base-coordinate.md': BASE_COORDINATE,
  'correction-stream.md': [...STREAM, ...LINK],
  'ellipse-and-circle.md': ELLIPSE,
  'five-seconds.md': FIVE_SECONDS,
  'frames-and-epochs.md': FRAMES,
  'grid-ellipsoid-ground.md': LENGTHS,
  'heights-between-benchmarks.md': HEIGHTS,
  'planning-the-sky.md': SKY,
  'site-fit-and-leverage.md': SITE,
  'siting-a-base.md': SITING,
  'three-heights.md': THREE_HEIGHTS,
};
