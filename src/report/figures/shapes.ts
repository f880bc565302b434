import {
  line,
  symbol,
  symbolAsterisk,
  symbolCircle,
  symbolDiamond,
  symbolPlus,
  symbolSquare,
  symbolTriangle,
  symbolTimes,
} from 'd3-shape';
import { at } from '../page/words/numbers.js';

/** A place on a figure: to the right and down. */
export interface Place {
  readonly x: number;
  readonly y: number;
}

export type SymbolName = 'circle' | 'cross' | 'diamond' | 'square' | 'star' | 'times' | 'triangle';

const SYMBOLS = {
  circle: symbolCircle,
  cross: symbolPlus,
  diamond: symbolDiamond,
  square: symbolSquare,
  star: symbolAsterisk,
  times: symbolTimes,
  triangle: symbolTriangle,
} as const;

/** The path of a polyline. */
export function polylinePath(places: readonly Place[], closed: boolean = false): string {
  const draw = line<Place>(
    (place) => place.x,
    (place) => place.y,
  ).digits(1);
  // Null for no places.
  const path = draw([...places]) ?? '';
  return closed && path !== '' ? `${path}Z` : path;
}

/** The path of a symbol about the origin; `area` in square units. */
export function symbolPath(name: SymbolName, area: number): string {
  // Null only where it draws on a canvas.
  return symbol(SYMBOLS[name], area).digits(2)() ?? '';
}

/** Dots as one path, to be stroked with round ends. Equal places are drawn once. */
export function dotsPath(places: readonly Place[]): string {
  return marks(places, 'h0');
}

/** Small crosses as one path, to be told from dots without colour. */
export function crossesPath(places: readonly Place[], half: number): string {
  const w = at(2 * half);
  return marks(
    places.map(({ x, y }) => ({ x: x - half, y: y - half })),
    `l${w} ${w}m-${w} 0l${w}-${w}`,
  );
}

function marks(places: readonly Place[], stroke: string): string {
  const seen = new Set<string>();
  let path = '';
  for (const { x, y } of places) {
    const place = `${at(x)} ${at(y)}`;
    if (seen.has(place)) continue;
    seen.add(place);
    path += `M${place}${stroke}`;
  }
  return path;
}
