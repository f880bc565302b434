import { markup } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { at } from '../page/words/numbers.js';

export interface DrawingContent {
  /** Word for addresses inside the page; unique on it. */
  readonly id: string;
  readonly title: string;
  /** What the drawing shows, for who cannot see it. */
  readonly description: string;
  readonly width: number;
  readonly height: number;
  readonly body: Markup;
}

/** A drawing with its title and description, as wide as its place. */
export function drawing({ id, title, description, width, height, body }: DrawingContent): Markup {
  return markup`<svg viewBox="0 0 ${at(width)} ${at(height)}" role="img" aria-labelledby="${id}-t ${id}-d"><title id="${id}-t">${title}</title><desc id="${id}-d">${description}</desc>${body}</svg>`;
}

/**
 * A numbered figure of one wide drawing. A narrow screen scrolls it sideways; above it then stands the whole of it once
 * more, small and without its words, so that no mark is out of sight.
 */
export function wideFigure(content: DrawingContent, number: number, caption: Markup): Markup {
  const { id, title, width, height, body } = content;
  const whole = markup`<svg class="whole-one" aria-hidden="true" viewBox="0 0 ${at(width)} ${at(height)}"><use href="#all-${id}"/></svg>`;
  return markup`<figure class="wide">${whole}<div class="scroll" tabindex="0" role="group" aria-label="${title}">${drawing({ ...content, body: markup`<g id="all-${id}">${body}</g>` })}</div>
<figcaption><b>Figure ${String(number)}.</b> ${caption}</figcaption></figure>`;
}

/** Text on a drawing: an isolated piece of its own direction. */
export function label(x: number, y: number, text: string, classes: string = ''): Markup {
  return markup`<text x="${at(x)}" y="${at(y)}"${classes === '' ? null : markup` class="${classes}"`}>${text}</text>`;
}

export function linePath(path: string, classes: string): Markup {
  return path === '' ? { html: '' } : markup`<path class="${classes}" d="${path}"/>`;
}
