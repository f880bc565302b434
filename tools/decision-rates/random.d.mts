/** Random numbers told by a seed and words. */
export interface RandomStream {
  next(): number;
  normal(): number;
  meanSquare(n: number): number;
  student(n: number): number;
  between(low: number, high: number): number;
  index(count: number): number;
  sign(): number;
  direction(): number[];
}
export function stream(...words: readonly (string | number)[]): RandomStream;
