import { present } from '../../records/present.js';
/** The week number that satellites send has ten bits: 1024 weeks of seven days, milliseconds. Reference: IS-GPS-200, from memory. */
export const ROLLOVER_MS: number = 1024 * 7 * 86_400_000;

/**
 * 2000-05-02T00:00:00Z: before it civil signals were degraded on purpose, and a log of centimetres of that age is not met.
 * A receiver whose week number rolled over says 1980 or 1999 to 2000 in most cases. From memory.
 */
export const FIRST_PLAUSIBLE_MS = 957_225_600_000;

/** Rollovers looked for: to 2059 from the first plausible date. */
const MOST_ROLLOVERS = 3;

/** How far beside a known span of time work is still of it, milliseconds: a day, so that no window is missed for its zone. */
const NEAR_MS = 86_400_000;

/** A span of time in which work is known to have been done; null: open. */
export interface KnownSpan {
  readonly fromMs: number | null;
  readonly toMs: number | null;
}

/**
 * When an epoch was probably measured, where its receiver's week number has rolled over.
 *
 * Given: the instant as logged, milliseconds since 1970-01-01T00:00:00Z; spans in which work was done, such as windows of
 * bases. Returned: the probable instant; null where the one logged is plausible.
 * Notes: no clock is asked, so that the same log always gives the same answer. An instant is implausible before
 * `FIRST_PLAUSIBLE_MS`, and where it lies outside every span bounded on both sides, and a whole number of rollovers later lies in one.
 */
export function rolledOverFrom(epochMs: number, spans: readonly KnownSpan[]): number | null {
  const bounded = spans.filter(({ fromMs, toMs }) => fromMs !== null && toMs !== null);
  const isKnown = (ms: number): boolean =>
    bounded.some(
      ({ fromMs, toMs }) => ms >= present(fromMs, 'fromMs') - NEAR_MS && ms <= present(toMs, 'toMs') + NEAR_MS,
    );
  if (isKnown(epochMs)) return null;
  const later = Array.from({ length: MOST_ROLLOVERS }, (_, index) => epochMs + (index + 1) * ROLLOVER_MS);
  const known = later.find(isKnown);
  if (known !== undefined) return known;
  return epochMs >= FIRST_PLAUSIBLE_MS ? null : (later.find((ms) => ms >= FIRST_PLAUSIBLE_MS) ?? null);
}
