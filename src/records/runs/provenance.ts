/** A published source: key into docs/references.md, and the section, page or table. */
export interface SourceRef {
  readonly key: string;
  readonly locator: string;
}

/** How a number was made. */
export interface MethodRef {
  readonly id: string;
  readonly name: string;
  readonly source?: SourceRef;
  /** Accuracy its publisher states, metres; null: none stated. Only with changes of datum. */
  readonly accuracyM?: number | null;
  /** Where its parameters come from, in words. */
  readonly origin?: string | null;
}

/** An input or grid file, as it is written into the run record. */
export interface FileDigest {
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string;
}
