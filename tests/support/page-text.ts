import { plainText } from './table-cells.js';

/** The text of a page, a block or a row of a table on a line, cells parted by bars. Styles and drawings are left out. */
export function textOfPage(html: string): string {
  const marked = html
    .replaceAll(/<(style|script|figure|svg)[^>]*>[\s\S]*?<\/\1>/gu, '')
    .replaceAll(/\s*\n\s*/gu, ' ')
    .replaceAll(/<\/t[dh]>\s*(?=<t[dh])/gu, ' | ')
    .replaceAll(
      /<\/?(?:title|h\d|p|div|section|header|footer|main|ul|ol|li|dl|dt|dd|table|caption|thead|tbody|tr|figure|figcaption|br|details|summary|pre|nav|article)\b[^>]*>/gu,
      '\n',
    );
  return `${plainText(marked)
    .split('\n')
    .map((line) => line.replaceAll(/\s+/gu, ' ').trim())
    .filter((line) => line !== '')
    .join('\n')}\n`;
}
