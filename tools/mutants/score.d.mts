export interface Result {
  readonly room: string;
  readonly isKilled: boolean;
}
export interface Floors {
  readonly all: number;
  readonly rooms: Readonly<Record<string, number>>;
}
export const LEVEL: number;
export function interval(killed: number, of: number): { readonly low: number; readonly high: number };
export function chanceOfSoFew(killed: number, of: number, floor: number): number;
export function belowFloors(results: readonly Result[], floors: Floors, isWhole: boolean): readonly string[];
