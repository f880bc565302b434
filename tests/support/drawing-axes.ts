/** A drawing of a page: where its axes put a value, and where its marks are. */
export interface ReadDrawing {
  /** From a value in metres (or as the axis has it where it has no length) to the place across and down. */
  readonly across: (value: number) => number;
  readonly down: (value: number) => number;
  readonly marks: readonly { readonly sign: string; readonly x: number; readonly y: number }[];
}

const UNITS: Readonly<Record<string, number>> = { km: 1000, mm: 0.001, m: 1, metre: 1 };

/** Reads a drawing back by the words of its ticks, which is what a reader does. */
export function readDrawing(html: string, id: string): ReadDrawing {
  const start = html.indexOf(`aria-labelledby="${id}-t`);
  if (start < 0) throw new Error(`no drawing ${id}`);
  const drawing = html.slice(start, html.indexOf('</svg>', start));
  const titles = [...drawing.matchAll(/class="m s"[^>]*>([^<]*)</gu)].map(([, text = '']) => text);
  const ticksAcross = [...drawing.matchAll(/<text x="([^"]*)" y="[^"]*" class="m s q">([^<]*)</gu)];
  const ticksUp = [...drawing.matchAll(/<text x="[^"]*" y="([^"]*)" class="e s q">([^<]*)</gu)];
  return {
    across: lineThrough(ticksAcross, unitOf(titles[0] ?? ''), 0),
    // The words of an upright axis stand 3.5 below their tick, so that their middle is beside it.
    down: lineThrough(ticksUp, unitOf(titles[1] ?? ''), -3.5),
    marks: [...drawing.matchAll(/<use href="#([^"]*)" x="([^"]*)" y="([^"]*)"/gu)].map(([, sign = '', x, y]) => ({
      sign: sign.slice(id.length + 1),
      x: Number(x),
      y: Number(y),
    })),
  };
}

function unitOf(title: string): number {
  const words = title.split(', ');
  return words.map((word) => UNITS[word]).find((unit) => unit !== undefined) ?? 1;
}

function lineThrough(ticks: readonly RegExpMatchArray[], unit: number, offset: number): (value: number) => number {
  const places = ticks.map(([, at, text = '']) => ({
    at: Number(at) + offset,
    value: Number(text.replace('\u2212', '-')) * unit,
  }));
  const [first, last] = [places[0], places.at(-1)];
  if (first === undefined || last === undefined || first.value === last.value) throw new Error('an axis of one tick');
  const slope = (last.at - first.at) / (last.value - first.value);
  return (value) => first.at + slope * (value - first.value);
}
