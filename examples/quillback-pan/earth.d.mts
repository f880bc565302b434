/** Westing and southing of Lo21, or of the zone of another central meridian. */
export function gridOf(
  place: { readonly latitudeDeg: number; readonly longitudeDeg: number },
  centralMeridianDeg?: number,
): {
  readonly westingM: number;
  readonly southingM: number;
};
