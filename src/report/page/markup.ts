import { visibleText } from './words/visible-text.js';
import { entryAt, present } from '../../records/present.js';

/** Text that is HTML already. Only `markup` makes it, so what comes from data is escaped by construction. */
export interface Markup {
  readonly html: string;
}

export type MarkupValue = string | Markup | readonly Markup[] | null;

/** Nothing. */
export const NO_MARKUP: Markup = Object.freeze({ html: '' });

/** The same in text, in attributes and inside SVG. */
export function escapeText(text: string): string {
  return visibleText(text).replace(/[&<>"']/gu, (sign) => present(ESCAPES[sign], 'the name of a sign'));
}

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/**
 * Template tag for HTML and SVG: strings put in are escaped, markup and lists of it go in as they are.
 * Attribute values must stand in double quotes. Numbers are not accepted: how they are written is said first.
 */
export function markup(parts: TemplateStringsArray, ...values: readonly MarkupValue[]): Markup {
  let html = entryAt(parts, 0);
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i] ?? null;
    if (typeof value === 'string') html += escapeText(value);
    else if (value !== null) html += 'html' in value ? value.html : joined(value);
    html += entryAt(parts, i + 1);
  }
  return { html };
}

/** Several pieces, one after the other. */
export function together(pieces: readonly Markup[]): Markup {
  return { html: joined(pieces) };
}

/** The longest name, and the longest word of one, that a table keeps on one line. */
const SHORT = 18;

/**
 * An identifier from data: a piece of text of its own, whatever direction it is written in. Its class says where
 * a table may break it: nowhere, between words (`l`), or anywhere (`x`).
 */
export function named(text: string): Markup {
  const shown = visibleText(text);
  if (shown.length <= SHORT) return markup`<bdi>${text}</bdi>`;
  const isOneWord = shown.split(' ').some((word) => word.length > SHORT);
  return isOneWord ? markup`<bdi class="x">${text}</bdi>` : markup`<bdi class="l">${text}</bdi>`;
}

function joined(pieces: readonly Markup[]): string {
  let html = '';
  for (const piece of pieces) html += piece.html;
  return html;
}
