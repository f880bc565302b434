import type { Place } from '../shapes.js';

/** A label that wants to stand at a place. */
export interface WantedLabel {
  readonly at: Place;
  readonly text: string;
  /** Room the symbol takes, so that a label does not lie on it. */
  readonly clear: number;
}

/** A place that labels keep off. */
export interface TakenPlace extends Place {
  readonly clear?: number;
  /** Half the width where it is not as high as wide. */
  readonly wide?: number;
}

export interface PlacedLabel {
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly classes: string;
}

interface Rectangle {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const LETTER = 6.6;
const HEIGHT = 12;

/**
 * Places labels in order where they meet neither each other nor `taken`, and where that can be had not `shunned`
 * either; those without room are left out. Lines that would strike a word through (`lines`) send it farther off.
 */
export function placeLabels(
  wanted: readonly WantedLabel[],
  taken: readonly TakenPlace[],
  box: Rectangle,
  shunned: readonly TakenPlace[] = [],
  lines: readonly TakenPlace[] = [],
): readonly PlacedLabel[] {
  const occupied: Rectangle[] = taken.map(around);
  const avoided = shunned.map(around);
  const strokes = lines.map(around);
  const placed: PlacedLabel[] = [];
  for (const one of wanted) {
    const free = TRIES.map((way) => tried(one, way)).filter(
      ({ rectangle }) => isWithin(rectangle, box) && !occupied.some((other) => meets(rectangle, other)),
    );
    const open = free.filter(({ rectangle }) => !strokes.some((line) => meets(rectangle, line)));
    const clear = open.find(({ rectangle, isFar }) => !isFar && !avoided.some((other) => meets(rectangle, other)));
    const best = clear ?? open[0] ?? free[0];
    if (best === undefined) continue;
    occupied.push(best.rectangle);
    placed.push(best.label);
  }
  return placed;
}

/** A word on a line, at the first of its places where there is room; null where there is none. */
export function placeOnLine(
  text: string,
  spots: readonly Place[],
  taken: readonly TakenPlace[],
  box: Rectangle,
): PlacedLabel | null {
  const occupied = taken.map(around);
  for (const { x, y } of spots) {
    const placed = { x, y: y - 3, text, classes: 'm s q halo' };
    const room = around(roomOf(placed));
    if (isWithin(room, box) && !occupied.some((other) => meets(room, other))) return placed;
  }
  return null;
}

/** The room of a word that stands already. */
export function roomOf({ x, y, text, classes }: PlacedLabel): TakenPlace {
  const half = widthOf(text) / 2;
  return {
    x: classes.startsWith('e ') ? x - half : classes.startsWith('m ') ? x : x + half,
    y: y - 4,
    clear: 7,
    wide: half,
  };
}

function tried(
  { at, text, clear }: WantedLabel,
  { dx, dy, side }: Try,
): { readonly rectangle: Rectangle; readonly label: PlacedLabel; readonly isFar: boolean } {
  const width = widthOf(text);
  const x = at.x + dx * (clear + 3);
  const y = at.y + dy * (clear + 8) + 4;
  const left = side === 'e' ? x - width : side === 'm' ? x - width / 2 : x;
  return {
    isFar: Math.max(Math.abs(dx), Math.abs(dy)) > 1,
    rectangle: { left, right: left + width, top: y - HEIGHT + 2, bottom: y + 3 },
    label: { x, y, text, classes: side === '' ? 's halo' : `${side} s halo` },
  };
}

/** The room a place takes. */
export function around({ x, y, clear = 4, wide = clear }: TakenPlace): Rectangle {
  return { left: x - wide, right: x + wide, top: y - clear, bottom: y + clear };
}

function isWithin(inner: Rectangle, outer: Rectangle): boolean {
  return (
    inner.left >= outer.left && inner.right <= outer.right && inner.top >= outer.top && inner.bottom <= outer.bottom
  );
}

interface Try {
  readonly dx: number;
  readonly dy: number;
  readonly side: '' | 'e' | 'm';
}

const TRIES: readonly Try[] = [
  { dx: 1, dy: 0, side: '' },
  { dx: -1, dy: 0, side: 'e' },
  { dx: 0, dy: -1, side: 'm' },
  { dx: 0, dy: 1, side: 'm' },
  { dx: 0.8, dy: -0.7, side: '' },
  { dx: 0.8, dy: 0.7, side: '' },
  { dx: -0.8, dy: -0.7, side: 'e' },
  { dx: -0.8, dy: 0.7, side: 'e' },
  { dx: 2.2, dy: 0, side: '' },
  { dx: -2.2, dy: 0, side: 'e' },
  { dx: 0, dy: -1.9, side: 'm' },
  { dx: 0, dy: 1.9, side: 'm' },
];

/** In units of the drawing. Wide letters, such as those of Chinese and pictures, take twice the room. */
export function widthOf(text: string): number {
  let width = 0;
  // A sign of a text has a code.
  for (const sign of text) width += (sign.codePointAt(0) ?? 0) > 0x2e80 ? 2 * LETTER : LETTER;
  return width;
}

export function meets(a: Rectangle, b: Rectangle): boolean {
  return a.left < b.right && a.right > b.left && a.top < b.bottom && a.bottom > b.top;
}
