/** A package of the program, as the lock file names it. */
export interface ThirdParty {
  readonly folder: string;
  readonly name: string;
  readonly version: string;
  readonly license: string;
  /** False for one whose data alone are copied. */
  readonly isOfProgram: boolean;
}
export function thirdParties(): readonly ThirdParty[];
export function thirdPartyNotices(): string;
