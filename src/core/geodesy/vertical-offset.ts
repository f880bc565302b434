/** A vertical axis pointing up (heights) or down (depths). */
export type VerticalKind = 'height' | 'depth';

/**
 * Vertical offset (EPSG method 9616): a height or depth in another vertical system.
 *
 * Given: value in the source system, metres; offset A, metres: the amount to add to a source height
 * to get the target height; whether source and target count up or down. Returned: value in the
 * target system, metres: m_t (m_s x + A), with m = 1 for heights and −1 for depths.
 * Errors: none. Inverse: `inverseVerticalOffset`.
 * Reference: IOGP-373-7-2, EPSG method 9616.
 */
export function verticalOffset(valueM: number, offsetM: number, source: VerticalKind, target: VerticalKind): number {
  return signOf(target) * (signOf(source) * valueM + offsetM);
}

/**
 * Vertical offset reversed.
 *
 * Given: value in the target system, metres; the offset and kinds as for `verticalOffset`.
 * Returned: value in the source system, metres.
 */
export function inverseVerticalOffset(
  valueM: number,
  offsetM: number,
  source: VerticalKind,
  target: VerticalKind,
): number {
  return signOf(source) * (signOf(target) * valueM - offsetM);
}

function signOf(kind: VerticalKind): number {
  return kind === 'height' ? 1 : -1;
}
