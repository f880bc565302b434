/** A place as a session and a file of truth have it. */
export interface JobPlace {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number;
}

export interface GeneratedJob {
  readonly days: readonly { readonly id: string }[];
  /** The mark of the first base as the sessions know it. */
  readonly known: JobPlace;
}

export declare const JOB_SEED: number;
export declare function generateJob(seed: number): GeneratedJob;
/** The committed files by name. */
export declare function jobFiles(seed: number): Readonly<Record<string, string>>;
