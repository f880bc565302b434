// The settings of a limits file: what each may hold, its default and its meaning, as session-fields.ts has those of a
// session. docs/methods/limits.md holds the table made from them.

/** The head of the file. */
export const LIMITS_FILE_FIELDS = {
  version: { kind: 'number', isRequired: true, isWhole: true, meaning: 'form of this file: 1' },
  title: { kind: 'text', meaning: 'what the limits are called', byDefault: 'none' },
  source: { kind: 'text', meaning: 'where they come from', byDefault: 'not stated' },
} as const;

/** One rule. */
export const LIMIT_FIELDS = {
  name: { kind: 'text', isRequired: true, meaning: 'printed beside each verdict' },
  axis: {
    kind: 'text',
    isRequired: true,
    choices: ['2d', '1d', 'up'],
    meaning: 'horizontal length, larger horizontal component, or height',
  },
  combine: {
    kind: 'text',
    choices: ['linear', 'rss'],
    meaning: 'how the terms are joined: sum, or root-sum-square',
    default: 'linear',
  },
  constant_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning: 'a: the part that does not grow',
    default: 0,
  },
  proportion_ppm: {
    kind: 'number',
    minimum: 0,
    maximum: 1_000_000,
    meaning: 'b: parts per million of the distance from the base',
    default: 0,
  },
  distance_offset_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1_000_000,
    meaning: 'd₀: added to the distance before the proportion',
    default: 0,
  },
  per_root_km_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning: 'c: metres times the root of the distance in kilometres',
    default: 0,
  },
  floor_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning: 'the limit is never less',
    byDefault: 'none',
  },
  cap_m: { kind: 'number', minimum: 0, maximum: 1000, meaning: 'the limit is never more', byDefault: 'none' },
  probability: {
    kind: 'number',
    minimum: 0,
    maximum: 1,
    meaning: 'what the limit is meant to hold, such as 0.95; printed, never used to rescale',
    byDefault: 'not stated',
  },
  applies_to: {
    kind: 'words',
    choices: ['control', 'repeats', 'design'],
    meaning: 'which checks the rule judges',
    default: ['control', 'repeats', 'design'],
  },
} as const;
