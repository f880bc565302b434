export declare const LINK_SEED: number;
/** Seconds of the day in UTC. */
export declare const STORY: {
  readonly from: number;
  readonly to: number;
  readonly stepS: number;
  readonly baseOutage: readonly [number, number];
  readonly heightChange: number;
  readonly heightsM: readonly [number, number];
  readonly linkOutage: readonly [number, number];
  readonly damaged: number;
  readonly latencyS: number;
};
export declare function streamBytes(seed: number): Uint8Array;
export declare function fixesText(seed: number): string;
export declare function sessionText(): string;
