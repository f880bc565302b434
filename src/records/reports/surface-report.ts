import type { ReportPlace } from './reduction-report.js';

/** A place of the map of a surface, in the axes of the site. */
export interface SurfaceMapPlace {
  readonly place: ReportPlace;
  readonly correctionM: number;
  readonly sigmaM: number;
}

/** A surface of heights as the page of its site shows it. */
export interface SurfaceReport {
  readonly trend: string;
  readonly trendIsStated: boolean;
  /** A plane was not chosen, and the tilt that it would have is in the sigma. */
  readonly hasUntoldTilt: boolean;
  readonly candidates: readonly {
    readonly trend: string;
    readonly leftOutRmsM: number | null;
    readonly f: { readonly against: string; readonly statistic: number; readonly limit: number } | null;
  }[];
  readonly signal: {
    readonly kind: string;
    readonly sigmaM: number;
    readonly sigmaFrom: string;
    readonly lengthM: number;
    readonly lengthFrom: string;
    /** Signals that the benchmarks leave likely, whose spread is in the sigma; 0: it was not estimated. */
    readonly likely: number;
  };
  readonly sensitivity: readonly {
    readonly what: string;
    readonly leftOutRmsM: number | null;
    readonly changeM: number;
    readonly mostSigmaM: number;
  }[];
  /** Every benchmark as all others predict it, minus what it is, those farthest off first; null: nothing predicts it. */
  readonly leftOut: readonly {
    readonly pointId: string;
    readonly errorM: number | null;
    readonly sigmaM: number | null;
  }[];
  readonly map: readonly SurfaceMapPlace[];
  readonly benchmarks: readonly { readonly pointId: string; readonly place: ReportPlace }[];
  readonly hull: readonly ReportPlace[];
}
