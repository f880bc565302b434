import type { AdjustedNetwork } from '../../../core/network/adjust-network.js';
import { MOST_ROWS } from '../../../core/network/blocks/adjust-blocks.js';
import { observationAt, predicted } from '../../../core/network/blocks/block-equations.js';
import type { BlockObservation, BlockTerm } from '../../../core/network/blocks/block-equations.js';
import type { EquationOrigin } from '../../../core/network/equations/equation-origins.js';
import { isMeasured } from '../../../core/network/equations/equation-origins.js';
import { entryAt, present } from '../../../records/present.js';
import { about } from './digits.js';
import { three, vectorPart, weighted } from './vector-part.js';

/** The axes of a place, or the one of a height. */
export type Three = readonly [number, number, number];

export interface Part {
  /** Place of the equation. */
  readonly at: number;
  readonly origin: EquationOrigin;
  /** What it is, in words. */
  readonly label: string;
  /** Errors that observations share, which enter it. */
  readonly shared: readonly string[];
}

/** Three numbers that say where the station is: a vector to or from it, or its own place as control. */
export interface PlacePart extends Part {
  readonly kind: 'place';
  /** 1: the vector comes to the station; −1: it starts there. */
  readonly sign: 1 | -1;
  /** The other end: its approximate place and correction; null: the place itself is stated. */
  readonly other: { readonly id: string; readonly about: Three; readonly shiftM: Three } | null;
  /** The vector; or the stated place. */
  readonly measuredM: Three;
  /** What shared errors add to the vector. */
  readonly sharedM: Three;
  /** Row by row, 1/m². */
  readonly weight: ArrayLike<number>;
  /** Its inverse: xx, xy, xz, yy, yz, zz, m². */
  readonly covariance: readonly number[];
}

/** One number that says how far the station is along a direction. */
export interface NumberPart extends Part {
  readonly kind: 'number';
  /** Direction cosines; of a station of which only the height is known the first alone counts. */
  readonly along: Three;
  readonly observedM: number;
  /** What the other end and shared errors add. */
  readonly othersM: number;
  readonly weight: number;
}

/** Weights and right sides of what is not shown number by number. */
export interface SumPart {
  readonly label: string;
  /** Row by row, 1/m². */
  readonly normal: Float64Array;
  /** 1/m. */
  readonly right: Float64Array;
}

/** Everything that says where a station is. */
export interface StationParts {
  /** Place in the list of stations. */
  readonly station: number;
  readonly shown: readonly (PlacePart | NumberPart)[];
  readonly summed: SumPart | null;
  /** The station's approximate coordinates, or height, in whole centimetres. */
  readonly about: readonly number[];
  /** What the adjustment adds to these, metres. */
  readonly shiftM: readonly number[];
  readonly isFixed: boolean;
}

/** Observations shown number by number; of a base that hundreds meet the rest is given as sums. */
const MOST_SHOWN = 8;
/** The weight of a coordinate that is held without error is as large as this, 1/m². */
const FIXED_WEIGHT = 1e11;

/** The equations that meet a station, each as what it says of it. */
export function stationParts(adjusted: AdjustedNetwork, station: number): StationParts {
  const { built, solution, list } = adjusted.final.solved;
  const { equations, unknowns } = solution;
  const { sizes, starts, termStarts, termBlocks } = equations;
  const size = present(sizes[station], 'the size of a station');
  const { place, heightM } = entryAt(list.stations, station);
  const exact = place === null ? [heightM] : [place.position.xM, place.position.yM, place.position.zM];
  const near = exact.map(about);
  const shown: (PlacePart | NumberPart)[] = [];
  const rest: string[] = [];
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  let isFixed = false;
  for (let at = 0; at < built.origins.length; at += 1) {
    if (!termBlocks.subarray(termStarts[at], termStarts[at + 1]).includes(station)) continue;
    const equation = equationAt(adjusted, at, station, exact, near);
    const part = shown.length < MOST_SHOWN ? partOf(adjusted, equation, station, near) : null;
    const { own, observation, matrix, asked, others } = equation;
    isFixed ||= own.origin.kind === 'control' && entryAt(observation.weight, 0) > FIXED_WEIGHT;
    if (part !== null) shown.push(part);
    else {
      rest.push(own.label);
      const said = asked.map((value, r) => value - entryAt(others, r));
      addTo(normal, right, matrix, observation.weight, said);
    }
  }
  const label = `${rest.length > 2 ? `${String(rest.length)} more` : rest.join(' and ')}, weighted and summed`;
  const shiftM = near.map((value, axis) => entryAt(exact, axis) - value + unknowns[starts[station]! + axis]!);
  return { station, shown, summed: rest.length === 0 ? null : { label, normal, right }, about: near, shiftM, isFixed };
}

/** One equation that meets a station. */
interface StationEquation {
  readonly own: Part;
  readonly observation: BlockObservation;
  /** Its rows for the station. */
  readonly matrix: Float64Array;
  /** What it asks of the station's correction to its place in whole centimetres. */
  readonly asked: Float64Array;
  /** What all other unknowns add to it. */
  readonly others: Float64Array;
}

function equationAt(
  adjusted: AdjustedNetwork,
  at: number,
  station: number,
  exact: readonly number[],
  near: readonly number[],
): StationEquation {
  const { built, solution } = adjusted.final.solved;
  const { equations, unknowns } = solution;
  const size = near.length;
  const origin = built.origins.of(at);
  const observation = observationAt(equations, at);
  const { matrix: rowsOfIt, factor } = present(
    observation.terms.find(({ block }) => block === station),
    'the term of a station that an equation meets',
  );
  const rows = observation.observed.length;
  const matrix = Float64Array.from({ length: rows * size }, (_, k) =>
    rowsOfIt === null ? (k % size === Math.floor(k / size) ? factor : 0) : rowsOfIt[k]!,
  );
  const times = (r: number, x: (axis: number) => number): number =>
    near.reduce((sum, _near, axis) => sum + matrix[r * size + axis]! * x(axis), 0);
  const start = present(equations.starts[station], 'the first unknown of a station');
  const room = new Float64Array(MOST_ROWS);
  predicted(equations, at, unknowns, room);
  return {
    own: { at, origin, label: labelOf(adjusted, origin), shared: sharedNames(adjusted, observation.terms) },
    observation,
    matrix,
    asked: Float64Array.from(
      { length: rows },
      (_, r) => observation.observed[r]! + times(r, (axis) => entryAt(exact, axis) - entryAt(near, axis)),
    ),
    others: Float64Array.from({ length: rows }, (_, r) => room[r]! - times(r, (axis) => unknowns[start + axis]!)),
  };
}

/** The equation number by number; null where it is not of a kind that is shown so. */
function partOf(
  adjusted: AdjustedNetwork,
  { own, observation, matrix, asked, others }: StationEquation,
  station: number,
  near: readonly number[],
): PlacePart | NumberPart | null {
  const { weight } = observation;
  if (asked.length === 1)
    return {
      ...own,
      kind: 'number',
      // Of a height the first alone counts.
      along: three((axis) => matrix[axis] ?? 0),
      observedM: entryAt(asked, 0),
      othersM: entryAt(others, 0),
      weight: entryAt(weight, 0),
    };
  if (asked.length !== 3) return null;
  if (own.origin.kind === 'vector') return { ...own, ...vectorPart(adjusted, own.origin.index, station, observation) };
  return {
    ...own,
    kind: 'place',
    sign: 1,
    other: null,
    measuredM: three((axis) => entryAt(near, axis) + column(matrix, asked, axis)),
    sharedM: three((axis) => column(matrix, others, axis)),
    ...weighted(turned(matrix, weight)),
  };
}

/** One number of Aᵀ x, A of three by three. */
const column = (a: Float64Array, x: Float64Array, axis: number): number =>
  a[axis]! * x[0]! + a[3 + axis]! * x[1]! + a[6 + axis]! * x[2]!;

/** Aᵀ P A of three by three. */
function turned(a: Float64Array, p: ArrayLike<number>): Float64Array {
  const into = new Float64Array(9);
  for (let i = 0; i < 3; i += 1)
    for (let j = 0; j < 3; j += 1)
      for (let r = 0; r < 3; r += 1)
        for (let s = 0; s < 3; s += 1) into[3 * i + j]! += a[3 * r + i]! * p[3 * r + s]! * a[3 * s + j]!;
  return into;
}

/** Adds Aᵀ P A and Aᵀ P x. */
function addTo(
  normal: Float64Array,
  right: Float64Array,
  a: Float64Array,
  p: ArrayLike<number>,
  x: Float64Array,
): void {
  const size = right.length;
  const rows = x.length;
  for (let i = 0; i < size; i += 1)
    for (let r = 0; r < rows; r += 1)
      for (let s = 0; s < rows; s += 1) {
        const by = a[r * size + i]! * p[r * rows + s]!;
        right[i]! += by * x[s]!;
        for (let j = 0; j < size; j += 1) normal[i * size + j]! += by * a[s * size + j]!;
      }
}

function labelOf({ network }: AdjustedNetwork, { kind, index }: EquationOrigin): string {
  if (!isMeasured(kind)) return `control, ${entryAt(network.control, index).held}`;
  const list = { vector: network.vectors, levelled: network.levelled, distance: network.distances }[kind];
  const { fromId, toId } = present(list[index], 'an observation');
  return `${kind} ${fromId} to ${toId}`;
}

/** Names of the errors that observations share, which enter an equation. */
function sharedNames({ network, final }: AdjustedNetwork, terms: readonly BlockTerm[]): readonly string[] {
  const first = final.solved.list.stations.length;
  return [
    ...new Set(
      terms.flatMap(({ block }) => (block < first ? [] : [network.shared[block - first]?.name ?? 'the geoid'])),
    ),
  ];
}
