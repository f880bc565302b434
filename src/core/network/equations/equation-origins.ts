/** What an equation stands for; `index` is the place in the network's own list of that kind. */
export interface EquationOrigin {
  readonly kind: 'vector' | 'levelled' | 'distance' | 'control' | 'shared' | 'geoid';
  readonly index: number;
}

/** Observations that are measured, not assumed: only these are judged. */
export type MeasuredKind = 'vector' | 'levelled' | 'distance';

/** Measured ones first. */
const KINDS: readonly EquationOrigin['kind'][] = ['vector', 'levelled', 'distance', 'control', 'shared', 'geoid'];
const MEASURED = 3;

/** What each equation of a network stands for. */
export interface EquationOrigins {
  readonly length: number;
  readonly of: (equation: number) => EquationOrigin;
  /** Place in the network's list of its kind. */
  readonly indexOf: (equation: number) => number;
  readonly isMeasured: (equation: number) => boolean;
  /** The equation of an entry of the network's lists; −1: it is left out. */
  readonly equationOf: (kind: EquationOrigin['kind'], index: number) => number;
  /** A writer with room for so many equations that has taken down the first of these. */
  readonly begin: (count: number, most: number) => OriginWriter;
}

/** Takes down what equations stand for, one after the other. */
export interface OriginWriter {
  readonly add: (kind: EquationOrigin['kind'], index: number) => void;
  readonly finish: () => EquationOrigins;
}

/** True for equations of measured observations. */
export function isMeasured(kind: EquationOrigin['kind']): kind is MeasuredKind {
  return KINDS.indexOf(kind) < MEASURED;
}

/** A writer with room for this many equations. */
export function writeOrigins(most: number): OriginWriter {
  return writer(new Uint8Array(most), new Int32Array(most), 0);
}

function writer(kinds: Uint8Array, indexes: Int32Array, begun: number): OriginWriter {
  let length = begun;
  return {
    add(kind, index) {
      kinds[length] = KINDS.indexOf(kind);
      indexes[length] = index;
      length += 1;
    },
    finish() {
      const equations = KINDS.map((_, code) => equationsOfKind(kinds, indexes, length, code));
      return {
        length,
        of: (equation) => ({ kind: KINDS[kinds[equation]!] ?? 'geoid', index: indexes[equation]! }),
        indexOf: (equation) => indexes[equation]!,
        isMeasured: (equation) => kinds[equation]! < MEASURED,
        equationOf: (kind, index) => equations[KINDS.indexOf(kind)]?.[index] ?? -1,
        begin(count, most) {
          const [own, places] = [new Uint8Array(most), new Int32Array(most)];
          own.set(kinds.subarray(0, count));
          places.set(indexes.subarray(0, count));
          return writer(own, places, count);
        },
      };
    },
  };
}

/** By the index in the network's list of a kind, its equation, −1: none. */
function equationsOfKind(kinds: Uint8Array, indexes: Int32Array, length: number, code: number): Int32Array {
  let most = -1;
  for (let at = 0; at < length; at += 1) if (kinds[at] === code) most = Math.max(most, indexes[at]!);
  const equations = new Int32Array(most + 1).fill(-1);
  for (let at = 0; at < length; at += 1) if (kinds[at] === code) equations[indexes[at]!] = at;
  return equations;
}
