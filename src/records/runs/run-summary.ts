/** A figure of a run that is the worst of its kind, and the point it belongs to. */
export interface LargestFigure {
  /** Its column, with the unit: `circle_95_m`. */
  readonly figure: string;
  readonly value: number;
  readonly at: string;
}

/** What a run was about, for tables over many runs. */
export interface RunSummary {
  /** Title of the session; empty without one. */
  readonly title: string;
  readonly points: number;
  /** Milliseconds since 1970-01-01T00:00:00Z; null: no times are stated. */
  readonly firstEpochMs: number | null;
  readonly lastEpochMs: number | null;
  /** Ids of the bases of the session, each once. */
  readonly bases: readonly string[];
  readonly largest: readonly LargestFigure[];
}
