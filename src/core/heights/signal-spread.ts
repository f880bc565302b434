import { largestOf, smallestOf } from '../numeric/extremes.js';
import { restrictedLogLikelihood } from './estimate-signal.js';
import type { EstimatedSignal, SearchedRange } from './estimate-signal.js';
import { collocateHeights } from './height-surface.js';
import type { SurfaceModel } from './height-surface.js';
import type { SignalCovariance } from './signal-covariance.js';

/** A signal that the benchmarks leave likely. */
export interface WeightedSignal {
  readonly signal: SignalCovariance;
  /** Its part of all, above 0; those of all signals sum to 1. */
  readonly weight: number;
}

/** Signals a side of the lattice that are weighed, and of the cells in which they are put together afterwards. */
const SIDE = 16;
const CELL = 3;
/** How often the lattice is laid anew around what is likely, at most. */
const ROUNDS = 4;
/** Below the likeliest by more than this, in logarithms, a signal is left out. With the two above: of our own, held against a finer lattice by reference rows. */
const LEAST_LIKELIHOOD = 6;
/** What has less weight in the end is left out. */
const LEAST_WEIGHT = 0.005;

/**
 * Which signals the benchmarks leave likely, and how likely: a lattice over ln √C₀ and ln L around the estimate, each weighed by its
 * restricted likelihood times √C₀, as if every √C₀ and every ln L were as likely before anything was measured. A sigma that takes one
 * estimate for the truth is too small by what the estimate may be off.
 *
 * Given: the model without its signal; the estimate, with where it was looked for. Returned: at least one signal; only the estimate
 * where nothing else can be weighed. Reference: GELMAN-2006 for every √C₀ as likely (from memory); docs/methods/height-surface.md has
 * the simulations.
 */
export function signalSpread(
  model: Omit<SurfaceModel, 'signal'>,
  { signal: likeliest, searched }: EstimatedSignal,
): readonly WeightedSignal[] {
  const weigh = (s: number, l: number, cell: number): Weighed | null => {
    const signal = { kind: likeliest.kind, sigmaM: Math.exp(s), lengthM: Math.exp(l) };
    const surface = collocateHeights({ ...model, signal });
    return surface === null ? null : { s, l, cell, logWeight: restrictedLogLikelihood(surface) + s };
  };
  const middle = weigh(Math.log(likeliest.sigmaM), Math.log(likeliest.lengthM), 0);
  if (middle === null) return [{ signal: likeliest, weight: 1 }];
  let [sigma, length] = [searched.sigma, searched.length];
  let likely: readonly Weighed[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const lattice = nodes(sigma).flatMap((s, i) => nodes(length).flatMap((l, j) => weigh(s, l, cellOf(i, j)) ?? []));
    const most = largestOf(
      lattice.map(({ logWeight }) => logWeight),
      middle.logWeight,
    );
    likely = lattice.filter(({ logWeight }) => logWeight > most - LEAST_LIKELIHOOD);
    // Around what is likely, and around the estimate where the lattice has missed it.
    const around = [...likely, middle];
    const [inSigma, inLength] = [around.map(({ s }) => s), around.map(({ l }) => l)];
    const [narrower, shorter] = [box(inSigma, sigma), box(inLength, length)];
    if (isAs(narrower, sigma) && isAs(shorter, length)) break;
    [sigma, length] = [narrower, shorter];
  }
  return shares(likely, likeliest);
}

interface Weighed {
  readonly s: number;
  readonly l: number;
  readonly cell: number;
  readonly logWeight: number;
}

function nodes([least, most]: SearchedRange): readonly number[] {
  if (least === most) return [least];
  return Array.from({ length: SIDE }, (_, i) => least + ((most - least) * i) / (SIDE - 1));
}

/** From the least to the most of some nodes and one step further, within what was looked at. */
function box(values: readonly number[], [least, most]: SearchedRange): SearchedRange {
  const step = (most - least) / (SIDE - 1);
  return [Math.max(least, smallestOf(values, Infinity) - step), Math.min(most, largestOf(values, -Infinity) + step)];
}

function isAs([a, b]: SearchedRange, [c, d]: SearchedRange): boolean {
  return a === c && b === d;
}

function cellOf(i: number, j: number): number {
  return SIDE * Math.floor(i / CELL) + Math.floor(j / CELL);
}

/** The signals of each cell as one, in their mean by weight. */
function shares(likely: readonly Weighed[], likeliest: SignalCovariance): readonly WeightedSignal[] {
  const most = largestOf(
    likely.map(({ logWeight }) => logWeight),
    -Infinity,
  );
  const cells = new Map<number, { size: number; s: number; l: number }>();
  for (const { s, l, cell, logWeight } of likely) {
    const size = Math.exp(logWeight - most);
    const sum = cells.get(cell) ?? { size: 0, s: 0, l: 0 };
    cells.set(cell, { size: sum.size + size, s: sum.s + size * s, l: sum.l + size * l });
  }
  const sums = [...cells.values()];
  const all = sums.reduce((sum, { size }) => sum + size, 0);
  const kept = sums.filter(({ size }) => size >= LEAST_WEIGHT * all);
  const total = kept.reduce((sum, { size }) => sum + size, 0);
  if (kept.length === 0) return [{ signal: likeliest, weight: 1 }];
  return kept.map(({ size, s, l }) => ({
    signal: { kind: likeliest.kind, sigmaM: Math.exp(s / size), lengthM: Math.exp(l / size) },
    weight: size / total,
  }));
}
