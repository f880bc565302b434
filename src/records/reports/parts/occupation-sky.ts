import type { PointVerdict } from '../../points/reduced-point.js';
import type { ProblemCode } from '../../codes/problem-codes.js';

/** What the sky was over both ends of a line while a point was occupied, by a navigation file. */
export interface OccupationSky {
  readonly pointId: string;
  readonly occupation: string;
  readonly baseId: string | null;
  /** Half-way between its first and last epoch. */
  readonly atMs: number;
  readonly verdict: PointVerdict;
  readonly reasons: readonly ProblemCode[];
  /** Median of what the receiver says it used; null: it says nothing. */
  readonly satellitesUsed: number | null;
  /** Above the masks of both ends, of the point and of the base; null: no base is known. */
  readonly satellites: number;
  readonly satellitesAtPoint: number;
  readonly satellitesAtBase: number | null;
  /** Of what each end sees by itself; null: it does not place a point, or no base is known. */
  readonly pdopAtPoint: number | null;
  readonly pdopAtBase: number | null;
}
