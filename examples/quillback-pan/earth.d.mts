/** Westing and southing of Lo21. */
export function gridOf(place: { readonly latitudeDeg: number; readonly longitudeDeg: number }): {
  readonly westingM: number;
  readonly southingM: number;
};
