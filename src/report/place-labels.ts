import type { Place } from './shapes.js';

/** A label that wants to stand at a place. */
export interface WantedLabel {
  readonly at: Place;
  readonly text: string;
  /** Room the symbol takes, so that a label does not lie on it. */
  readonly clear: number;
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

/** Places labels in order where they meet neither each other nor `taken`; those without room are left out. */
export function placeLabels(wanted: readonly WantedLabel[], taken: readonly Place[], box: Rectangle): readonly PlacedLabel[] {
  const occupied: Rectangle[] = taken.map(({ x, y }) => ({ left: x - 4, right: x + 4, top: y - 4, bottom: y + 4 }));
  const placed: PlacedLabel[] = [];
  for (const { at, text, clear } of wanted) {
    const width = widthOf(text);
    for (const { dx, dy, side } of TRIES) {
      const x = at.x + dx * (clear + 3);
      const y = at.y + dy * (clear + 8) + 4;
      const left = side === 'e' ? x - width : side === 'm' ? x - width / 2 : x;
      const rectangle = { left, right: left + width, top: y - HEIGHT + 2, bottom: y + 3 };
      if (rectangle.left < box.left || rectangle.right > box.right || rectangle.top < box.top || rectangle.bottom > box.bottom) continue;
      if (occupied.some((other) => meets(rectangle, other))) continue;
      occupied.push(rectangle);
      placed.push({ x, y, text, classes: side === '' ? 's halo' : `${side} s halo` });
      break;
    }
  }
  return placed;
}

const TRIES: readonly { readonly dx: number; readonly dy: number; readonly side: '' | 'e' | 'm' }[] = [
  { dx: 1, dy: 0, side: '' },
  { dx: -1, dy: 0, side: 'e' },
  { dx: 0, dy: -1, side: 'm' },
  { dx: 0, dy: 1, side: 'm' },
  { dx: 0.8, dy: -0.7, side: '' },
  { dx: 0.8, dy: 0.7, side: '' },
  { dx: -0.8, dy: -0.7, side: 'e' },
  { dx: -0.8, dy: 0.7, side: 'e' },
];

/** Wide letters, such as those of Chinese and pictures, take twice the room. */
function widthOf(text: string): number {
  let width = 0;
  for (const sign of text) width += (sign.codePointAt(0) ?? 0) > 0x2e80 ? 2 * LETTER : LETTER;
  return width;
}

function meets(a: Rectangle, b: Rectangle): boolean {
  return a.left < b.right && a.right > b.left && a.top < b.bottom && a.bottom > b.top;
}
