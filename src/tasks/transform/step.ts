import type { ShiftDirection } from '../../core/frames/shifts/shift-definition.js';
import type { Problem } from '../../records/problem.js';
import type { MethodRef } from '../../records/runs/provenance.js';
import type { Form, PointOnTheWay } from './point-on-the-way.js';
import type { ShowWorking } from './working/leg-working.js';

/** Moves the point; null, or the error that keeps it from being moved, without its place in the file. */
export type Move = (point: PointOnTheWay) => Problem | null;

/** A step in one direction. */
export interface Way {
  /** The form the point must be in. */
  readonly needs: Form;
  /** The one form that holds afterwards; null: what held before still does, as no coordinate was changed. */
  readonly gives: Form | null;
  readonly run: Move;
}

/**
 * One step of a transformation: a datum operation, a motion in time, a geoid, a projection, a site. Each undoes itself:
 * `inverse` after `forward` leaves the point where it was.
 */
export interface Step {
  readonly forward: Way;
  readonly inverse: Way;
  /** Lines for people, of the step in a direction. */
  readonly said: (direction: ShiftDirection) => readonly string[];
  /** Methods for the run record. */
  readonly recorded: (direction: ShiftDirection) => readonly MethodRef[];
  /** For the worked explanation; absent: the coordinates before and after are all that is shown. */
  readonly working?: ShowWorking;
}

/** A step taken in one of its directions. */
export interface Leg {
  readonly step: Step;
  readonly direction: ShiftDirection;
}

/** A leg forward. */
export function forwards(step: Step): Leg {
  return { step, direction: 'forward' };
}

/** A leg backwards. */
export function backwards(step: Step): Leg {
  return { step, direction: 'inverse' };
}

/** What a leg needs, gives and does. */
export function wayOf({ step, direction }: Leg): Way {
  return step[direction];
}

/** The way back: the last leg first, each in the other direction. */
export function reversedLegs(legs: readonly Leg[]): readonly Leg[] {
  return legs.toReversed().map(({ step, direction }) => ({ step, direction: opposite(direction) }));
}

/** The other direction. */
export function opposite(direction: ShiftDirection): ShiftDirection {
  return direction === 'forward' ? 'inverse' : 'forward';
}

/** What people are told of legs, in their order. */
export function saidOf(legs: readonly Leg[]): readonly string[] {
  return legs.flatMap(({ step, direction }) => step.said(direction));
}

/** What the run record holds of legs, in their order. */
export function recordedOf(legs: readonly Leg[]): readonly MethodRef[] {
  return legs.flatMap(({ step, direction }) => step.recorded(direction));
}

/** Of a step that is a matter of course: nothing is said or recorded. */
export const UNSAID: Pick<Step, 'said' | 'recorded'> = { said: () => [], recorded: () => [] };

/** `, applied backwards`, or nothing. */
export function backwardsWord(direction: ShiftDirection): string {
  return direction === 'inverse' ? ', applied backwards' : '';
}
