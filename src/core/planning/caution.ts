/** A sentence that goes with a plan: it changes no number, and a person should read it. */
export interface Caution {
  /** Stable word for scripts. */
  readonly id: string;
  /** Plain sentence, printed as it is. */
  readonly text: string;
  /** Key and place in docs/references.md, or `common practice, no published source`, or `from memory`. */
  readonly source: string;
}

/** Cautions that belong to every plan, whatever its numbers. */
export const PLANNING_CAUTIONS: readonly Caution[] = [
  {
    id: 'planning-assumption',
    text: 'The conditions quiet, normal and active are planning assumptions, not measurements and not a specification.',
    source: 'common practice, no published source',
  },
  {
    id: 'fix-range-is-not-tolerance-range',
    text: 'The range at which a solution fixes is not the range at which it meets a tolerance.',
    source: 'common practice, no published source',
  },
  {
    id: 'check-on-control',
    text: 'A prediction proves nothing: measure control that does not depend on the base before, during and after the work, also beyond the farthest point.',
    source: 'common practice, no published source',
  },
  {
    id: 'licensed-work',
    text: 'Boundaries, setting-out and levels for drainage or clearances need checks of their own and, in most countries, a licensed or responsible person.',
    source: 'common practice, no published source',
  },
];
