import type { ProblemCode } from '../codes/problem-codes.js';
import type { Answer } from '../runs/run-answer.js';
import type { SurveySpan } from './parts/survey-span.js';
import type { PageFacts } from './parts/page-facts.js';

/** The axes of a register: the two of the system, and the height. */
export type RegisterAxis = 'first' | 'second' | 'up';

/** What a set-up says of a mark or a base along one axis. */
export interface RegisterValue {
  readonly day: string;
  /** The base set-up of it. */
  readonly setUp: string;
  /** Milliseconds since 1970-01-01T00:00:00Z; null: not stated. */
  readonly atMs: number | null;
  /** Measured minus control, metres; of a base the mean of its marks. */
  readonly residualM: number;
  /** What is charted, in sigmas; null: nothing tells the mark from its base. */
  readonly z: number | null;
  /** Sums of the chart after it. */
  readonly upper: number;
  readonly lower: number;
}

/** A mark of the control or a base, along one axis, over all set-ups of a job. */
export interface RegisterRow {
  readonly what: 'mark' | 'base';
  readonly id: string;
  readonly axis: RegisterAxis;
  /** Null: not known. */
  readonly place: { readonly latitudeDeg: number; readonly longitudeDeg: number } | null;
  readonly values: readonly RegisterValue[];
  readonly meanM: number;
  /** Sample standard deviation; null of one value. */
  readonly spreadM: number | null;
  /** Metres a day, by time; null where times are missing or repeat. The interval holds 95 % or more; null below five values. */
  readonly trend: {
    readonly slope: number;
    readonly interval: { readonly low: number; readonly high: number } | null;
  } | null;
  /** Largest sums of the chart, in sigmas. */
  readonly largestUpper: number;
  readonly largestLower: number;
  /** Where the chart crosses its limit first; null: nowhere. */
  readonly signal: { readonly day: string; readonly direction: 'up' | 'down'; readonly beganDay: string } | null;
  /** The displacement that is believed, or is to be looked at; null: none is. Metres, in the sense of the residuals. */
  readonly movement: {
    /** step: from that day on; alone: in one set-up of that day. */
    readonly kind: 'step' | 'alone';
    readonly fromDay: string;
    readonly sizeM: number;
    readonly sigmaM: number;
    /** Set-ups that have it. */
    readonly epochs: number;
    /** Of the same mark or base, what explains the residuals as well; null: nothing does. */
    readonly other: { readonly kind: 'step' | 'alone'; readonly day: string; readonly sizeM: number } | null;
  } | null;
  readonly verdict: Answer;
  readonly reasons: readonly ProblemCode[];
}

/** Everything the page of a register says. */
export interface RegisterReport extends PageFacts {
  readonly title: string | null;
  readonly answer: Answer;
  readonly surveyed: SurveySpan | null;
  readonly systemName: string | null;
  /** Names of the axes, such as `easting`. */
  readonly axisNames: Readonly<Record<RegisterAxis, string>>;
  /** What values of the first two are multiplied by to count east and north. */
  readonly axisSigns: readonly [1 | -1, 1 | -1];
  readonly rows: readonly RegisterRow[];
  readonly counts: {
    readonly marks: number;
    readonly setUps: number;
    readonly used: number;
    readonly leftOut: number;
  };
  readonly firstDay: string;
  readonly lastDay: string;
  /** One sentence for each movement and each chart that crosses. */
  readonly findings: readonly string[];
  /** Of the chart, in sigmas. */
  readonly limit: number;
}
