/** Where dates stay as they are: nothing but text may stand there, or lines are not broken. */
const CLOSED = new Set(['style', 'title', 'desc', 'text', 'code']);
const DATE = /\d{4}-\d{2}-\d{2}(?![-\d])/gu;
const TIME = /^T\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?Z?/u;

/**
 * HTML whose dates are not broken at their hyphens: a date, and the time that follows it, each stay on one line, and
 * a line may end between the two. Given: HTML as `markup` makes it, where no text holds a bare `<`.
 */
export function withWholeDates(html: string): string {
  let shut = '';
  let out = '';
  for (const piece of html.split('<')) {
    const end = piece.indexOf('>');
    const name = /^\/?[a-z0-9]+/u.exec(piece)?.[0] ?? ''; // What begins before the first tag has none.
    if (out === '' && end < 0) out = piece;
    else {
      if (shut === '' && CLOSED.has(name)) shut = name;
      else if (name === `/${shut}`) shut = '';
      const text = piece.slice(end + 1);
      out += `<${piece.slice(0, end + 1)}${shut === '' ? wholeDates(text) : text}`;
    }
  }
  return out;
}

function wholeDates(text: string): string {
  let out = '';
  let from = 0;
  for (const { 0: date, index } of text.matchAll(DATE)) {
    const after = index + date.length;
    const time = TIME.exec(text.slice(after, after + 32))?.[0] ?? ''; // A date alone has no time.
    out += `${text.slice(from, index)}<span class="d">${date}</span>${time === '' ? '' : `<wbr><span class="d">${time}</span>`}`;
    from = after + time.length;
  }
  return out + text.slice(from);
}
