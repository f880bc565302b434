import { getHeapSpaceStatistics, setFlagsFromString } from 'node:v8';

/**
 * The nursery, two halves together, is not let grow beyond this. What a row makes dies with the row: with less room a run
 * takes longer, with more no less (measured), while the engine would take up to 32 MiB, and 128 MiB from Node.js 24 on.
 */
const NURSERY_BYTES = 8 * 1_048_576;

let isBounded = false;

/** Stops the nursery from growing once it is large enough, which it is not at first: to be asked again with each piece that is read. */
export function boundNursery(): void {
  if (isBounded) return;
  const nursery = getHeapSpaceStatistics().find(({ space_name: name }) => name === 'new_space');
  if (nursery === undefined || nursery.space_size < NURSERY_BYTES) return;
  setFlagsFromString('--semi-space-growth-factor=1');
  isBounded = true;
}
