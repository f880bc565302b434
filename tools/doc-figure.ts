import { DAY_COLOURS, FIGURE_STYLE, NIGHT_COLOURS } from '../src/report/page/page-style.js';

/** The colours of a drawing that stands alone, by day and by night. */
const FIGURE_COLOURS = `:root{${DAY_COLOURS}}@media (prefers-color-scheme:dark){:root{${NIGHT_COLOURS}}}`;

/** One drawing of a page as an SVG file of its own, with the colours it has there by day and by night. */
export function docFigure(html: string, id: string): string {
  const start = html.indexOf(`aria-labelledby="${id}-t ${id}-d"`);
  const open = html.lastIndexOf('<svg ', start);
  const end = html.indexOf('</svg>', start);
  if (start < 0 || open < 0 || end < 0) throw new Error(`the page has no drawing ${id}`);
  const svg = html.slice(open, end + '</svg>'.length);
  const [, width = '', height = ''] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? [];
  const ground = `<rect class="paper" width="${width}" height="${height}"/>`;
  return `${svg
    .replace('<svg ', `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" `)
    .replace('</desc>', `</desc><style>${FIGURE_COLOURS}\n${FIGURE_STYLE}</style>${ground}`)
    .replaceAll('><path', '>\n<path')}\n`;
}
