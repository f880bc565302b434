/** Texts of the cells of the table whose caption begins so, body rows only. */
export function cellsOfTable(html: string, caption: string): readonly (readonly string[])[] {
  const table = html.split('<table>').find((piece) => piece.includes(`<caption><b>${caption}</b>`));
  const body = /<tbody>([\s\S]*?)<\/tbody>/.exec(table ?? '')?.[1] ?? '';
  return [...body.matchAll(/<tr>([\s\S]*?)<\/tr>/g)].map(([, row]) =>
    [...(row ?? '').matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map(([, cell]) => plainText(cell ?? '')),
  );
}

/** Text of a piece of HTML. */
export function plainText(cell: string): string {
  return cell
    .replaceAll(/<[^>]*>/g, '')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&amp;', '&');
}
