/** One axis of the slow error of an epoch, one sigma in metres. */
export interface SlowAxis {
  readonly constantM: number;
  readonly growingM: number;
  readonly correlationS: number;
}

export function slowErrorAt(
  baselineM: number,
  heightDifferenceM: number,
): { readonly horizontal: SlowAxis; readonly vertical: SlowAxis };
export function fastNoiseAt(baselineM: number): { readonly horizontalM: number; readonly verticalM: number };
