import type { GeocentricPoint, GeodeticPoint, LocalCovariance } from '../points/point.js';
import type { PositionalSummary } from '../points/reduced-point.js';
import type { ProblemCode } from '../codes/problem-codes.js';
import type { Answer } from '../runs/run-answer.js';

/** A station after the adjustment. */
export interface NetworkPoint {
  readonly id: string;
  /** Null, with all that follows from a place: only the height of the station was observed. */
  readonly position: GeocentricPoint | null;
  readonly geodetic: GeodeticPoint | null;
  readonly gridFirst: number | null;
  readonly gridSecond: number | null;
  /** Null: not on a grid; of a projection that stretches differently every way the scale is null. */
  readonly factors: {
    readonly pointScale: number | null;
    readonly elevation: number;
    readonly combined: number | null;
    readonly convergenceDeg: number;
  } | null;
  readonly geoidHeightM: number | null;
  readonly orthometricHeightM: number | null;
  readonly covariance: LocalCovariance | null;
  /** One sigma of the height, metres. */
  readonly sigmaUpM: number;
  readonly summary: PositionalSummary | null;
  /** Sum of the redundancies of its observations. */
  readonly redundancy: number;
  /** Of its observations, without sign; null where nothing checks any. */
  readonly largestW: number | null;
  /** The largest bias in one number of an observation that moves it, which the test just finds; null: one of them is not checked at all. */
  readonly minimalDetectableBiasM: number | null;
  /** How far such a bias moves it; null: without limit. */
  readonly externalReliabilityM: number | null;
  /** The control point it is related to: the nearest other one; null without any. */
  readonly nearestControl: string | null;
  readonly relativeCircle95M: number | null;
  readonly relativeVertical95M: number | null;
  readonly isChecked: boolean;
  readonly verdict: Answer;
  readonly reasons: readonly ProblemCode[];
}

/** An observation after the adjustment; of a single number only the first of three is set. */
export interface NetworkObservationResult {
  readonly kind: 'vector' | 'levelled' | 'distance';
  /** Place in the network's list of its kind. */
  readonly index: number;
  readonly fromId: string;
  readonly toId: string;
  /** Adjusted minus observed; none where it was left out. */
  readonly residualsM: readonly number[];
  readonly redundancy: readonly number[];
  readonly w: readonly (number | null)[];
  readonly blockTest: number | null;
  /** What the others say minus what was observed; with the block test of the network that one station holds, where it is checked there. */
  readonly estimatedBiasM: readonly number[];
  readonly verdict: Answer;
  readonly reasons: readonly ProblemCode[];
}

/** A control point against the network. */
export interface NetworkControlResult {
  readonly index: number;
  readonly id: string;
  readonly held: string;
  /** What the network and the other control say minus what is stated, east, north, up; null in a direction that does not hold, or that nothing else speaks of. */
  readonly differenceM: readonly [number | null, number | null, number | null];
  readonly test: number | null;
  readonly limit: number | null;
  readonly isHolding: boolean;
  readonly verdict: Answer;
  readonly reasons: readonly ProblemCode[];
}

/** An unknown that several observations share, or of the geoid. */
export interface NetworkParameter {
  readonly name: string;
  readonly component: 'east' | 'north' | 'up' | 'one';
  readonly valueM: number;
  readonly sigmaM: number;
  readonly statedSigmaM: number;
}

/** What all vectors of a base or day may have in common beside a shift, and whether it is among the unknowns. */
export interface NetworkDistortion {
  readonly name: string;
  readonly kind: 'scale' | 'turn-east' | 'turn-north' | 'turn-up' | 'zenith-delay';
  readonly group: string;
  readonly answer: 'kept' | 'not-significant' | 'undetermined' | 'one-alone';
  /** Millionths: millimetres a kilometre; of one that is not kept, what it would be. Null: places and shifts take it up whole. */
  readonly valuePpm: number | null;
  readonly sigmaPpm: number | null;
  /** What vᵀPv has less with it, and what that must exceed. */
  readonly test: number | null;
  readonly limit: number | null;
  /** Of `one-alone`: the observation or control point without which nothing asks for it. */
  readonly hangsOn: string | null;
  /** The station whose height can hardly be told from it, and their correlation; null: none. */
  readonly alike: { readonly stationId: string; readonly correlation: number } | null;
}

/** What a group of observations says of its own variances. */
export interface NetworkComponent {
  readonly group: string;
  readonly factor: number;
  readonly sigma: number;
  readonly redundancy: number;
}

/** The accuracy of one station relative to another. */
export interface NetworkPair {
  readonly fromId: string;
  readonly toId: string;
  readonly distanceM: number;
  readonly summary: PositionalSummary;
}

/** A base whose mark no control holds, as the network found it. */
export interface DeterminedBase {
  readonly id: string;
  /** What the place is of: the mark, or the antenna reference point where no antenna height is known. */
  readonly at: 'mark' | 'arp';
  readonly geodetic: GeodeticPoint;
  readonly position: GeocentricPoint;
  /** Geocentric, m², 3 × 3 row by row. */
  readonly covariance: readonly number[];
  /** One sigma per axis as a session states them: of the mark and of setting up over it together. */
  readonly sigmaHorizontalM: number;
  readonly sigmaVerticalM: number;
  readonly isChecked: boolean;
  /** Of its station: one that is rejected is no place to take. */
  readonly isRejected: boolean;
}
