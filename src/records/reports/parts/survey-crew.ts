/** Who measured, for whom, and with what, as session and job say it; null and empty: not said. */
export interface SurveyCrew {
  readonly client: string | null;
  readonly surveyor: string | null;
  /** Who held the rover on any of the days, each once. */
  readonly observers: readonly string[];
  /** Receivers and antennas of the rover, each once. */
  readonly instruments: readonly string[];
  /** Of each set-up of a base that names one, each once. */
  readonly baseInstruments: readonly { readonly id: string; readonly instrument: string }[];
}
