import { PAGE_STYLE } from './page-style.js';
import { markup, together } from './markup.js';
import type { Markup } from './markup.js';
import { withWholeDates } from './words/whole-dates.js';

/** A part of a page, reached from the contents. */
export interface PageSection {
  /** Word for the address; unique on the page. */
  readonly id: string;
  readonly heading: string;
  readonly body: Markup;
}

export interface PageContent {
  readonly title: string;
  /** One line above the title: what made the page. */
  readonly kicker: string;
  /** The answer, and what was not done, a sentence or two each. */
  readonly verdict: readonly Markup[];
  readonly sections: readonly PageSection[];
  readonly foot: string;
}

/**
 * A whole page as text: one file, no scripts, nothing fetched. Its own policy forbids a browser to load
 * anything, whatever the data says. The same content gives the same bytes.
 */
export function page(content: PageContent): string {
  const { title, kicker, verdict, sections, foot } = content;
  const style = { html: `<style>${PAGE_STYLE}</style>` };
  return withWholeDates(
    markup`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${title}</title>
${style}
</head>
<body>
<div class="page">
<header>
<p class="kicker">${kicker}</p>
<h1><bdi>${title}</bdi></h1>
<div class="verdict">
${verdict.map(
  (line) => markup`<p>${line}</p>
`,
)}</div>
</header>
<nav aria-label="Contents">
<ul class="contents">${sections.map(({ id, heading }) => markup`<li><a href="#${id}">${heading}</a></li>`)}</ul>
</nav>
<main>
${together(sections.slice(0, -1).map(section))}<div class="end">
${together(sections.slice(-1).map(section))}<footer>
<p class="small">${foot}</p>
</footer>
</div>
</main>
</div>
</body>
</html>
`.html,
  );
}

function section({ id, heading, body }: PageSection): Markup {
  const head = markup`<h2 id="${id}-h">${heading}</h2>
`;
  const [first, rest] = firstFigure(body);
  // On paper a heading stays with the figure under it: a browser that moves the figure to the next sheet may leave the heading behind.
  return markup`<section id="${id}" aria-labelledby="${id}-h">
${first === null ? head : markup`<div class="kept">${head}${first}</div>`}${rest}
</section>
`;
}

/** The figure that a body begins with, after a sentence or without, and what follows it. */
function firstFigure(body: Markup): readonly [Markup | null, Markup] {
  const end = '</figure>';
  const begins = body.html.startsWith('<figure') || /^<p>[^\n]{0,400}<\/p>\s{0,2}<figure/u.test(body.html);
  const length = begins ? body.html.indexOf(end) + end.length : 0;
  return length === 0 ? [null, body] : [{ html: body.html.slice(0, length) }, { html: body.html.slice(length) }];
}
