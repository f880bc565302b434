import { createHash } from 'node:crypto';
import ts from 'typescript';

/**
 * A place where one small change may be made. The edit lies inside the expression, which is what is put into brackets where
 * both forms stand side by side.
 *
 * @typedef {object} Site
 * @property {string} file path from the root of the repository
 * @property {number} line 1-based
 * @property {string} text the line, without the space around it
 * @property {string} change as a person reads it: `< → <=`
 * @property {number} start of the expression
 * @property {number} end
 * @property {number} editStart what is replaced in it
 * @property {number} editEnd
 * @property {string} editText
 * @property {string} key hash of file, line and change: the same wherever the line stands in the file
 */

/** Operators and what each becomes. A boundary is harder to notice than an opposite, so it is what `<` gets. */
const OPERATORS = new Map([
  ['===', '!=='],
  ['!==', '==='],
  ['==', '!='],
  ['!=', '=='],
  ['<', '<='],
  ['<=', '<'],
  ['>', '>='],
  ['>=', '>'],
  ['+', '-'],
  ['-', '+'],
  ['*', '/'],
  ['/', '*'],
  ['&&', '||'],
  ['||', '&&'],
  ['+=', '-='],
  ['-=', '+='],
]);

/** Every place of a file, in the order of the text. */
export function sitesOf(file, text) {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const sites = [];
  const seen = new Map();
  const add = (node, editStart, editEnd, editText) => {
    const start = node.getStart(source);
    const { line } = source.getLineAndCharacterOfPosition(editStart);
    const from = source.getPositionOfLineAndCharacter(line, 0);
    const lineText = (text.slice(from).split('\n', 1)[0] ?? '').trim();
    const change = `${text.slice(editStart, editEnd)} → ${editText === '' ? 'nothing' : editText}`;
    const same = [file, lineText, change].join('\0');
    const before = seen.get(same) ?? 0;
    seen.set(same, before + 1);
    const key = createHash('sha256')
      .update(`${same}\0${String(before)}`)
      .digest('hex')
      .slice(0, 12);
    sites.push({
      file,
      line: line + 1,
      text: lineText,
      change,
      start,
      end: node.getEnd(),
      editStart,
      editEnd,
      editText,
      key,
    });
  };
  const visit = (node) => {
    if (ts.isTypeNode(node) && !ts.isExpressionWithTypeArguments(node)) return;
    if (ts.isBinaryExpression(node)) {
      const operator = node.operatorToken;
      const other = OPERATORS.get(operator.getText(source));
      if (other !== undefined && !joinsText(node))
        add(node, operator.getStart(source), operator.getEnd(), endsLoop(node) ? '+ 1 <' : other);
    } else if (ts.isPrefixUnaryExpression(node)) {
      const sign = text[node.getStart(source)];
      const isOfLiteral = ts.isNumericLiteral(node.operand);
      if (sign === '!' || (sign === '-' && !isOfLiteral))
        add(node, node.getStart(source), node.operand.getStart(source), '');
    } else if (node.kind === ts.SyntaxKind.TrueKeyword || node.kind === ts.SyntaxKind.FalseKeyword) {
      add(node, node.getStart(source), node.getEnd(), node.kind === ts.SyntaxKind.TrueKeyword ? 'false' : 'true');
    } else if (ts.isNumericLiteral(node) && node.parent.name !== node && !isEndOfLoop(node)) {
      const text = node.getText(source);
      add(node, node.getStart(source), node.getEnd(), isSize(node) ? smallerSize(text) : otherNumber(text));
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return sites;
}

/** One more of a count, a tenth more of a quantity, and 0 and 1 for each other. */
function otherNumber(literal) {
  const value = Number(literal.replaceAll('_', ''));
  if (value === 0) return '1';
  if (value === 1) return '0';
  return Number.isInteger(value) && value < 100 ? String(value + 1) : String(value * 1.1);
}

/** The number that such a loop counts to: its end is changed at the operator, which does the same. */
const isEndOfLoop = (node) => ts.isBinaryExpression(node.parent) && node.parent.right === node && endsLoop(node.parent);

/** A number in the size of a typed array. One place more would be nothing that anything looks at; one less loses what is put there. */
function isSize(node) {
  let at = node;
  while (ts.isBinaryExpression(at.parent) || ts.isParenthesizedExpression(at.parent)) at = at.parent;
  return (
    ts.isNewExpression(at.parent) &&
    at.parent !== at &&
    /^(?:Float|Int|Uint)\d+Array$/u.test(at.parent.expression.getText())
  );
}

const smallerSize = (literal) => (Number(literal) > 1 ? String(Number(literal) - 1) : otherNumber(literal));

/**
 * The end of a loop that counts up. It ends one early, not one late: one more round reads and writes past the end of an array, which
 * does nothing with a typed one.
 */
function endsLoop(node) {
  return (
    node.operatorToken.kind === ts.SyntaxKind.LessThanToken &&
    ts.isForStatement(node.parent) &&
    node.parent.condition === node
  );
}

/** Text put together by +: the other sign makes NaN of it, which says nothing of the tests. */
function joinsText(node) {
  if (node.operatorToken.kind !== ts.SyntaxKind.PlusToken && node.operatorToken.kind !== ts.SyntaxKind.PlusEqualsToken)
    return false;
  return [node.left, node.right].some(
    (side) =>
      ts.isStringLiteralLike(side) || ts.isTemplateExpression(side) || (ts.isBinaryExpression(side) && joinsText(side)),
  );
}

/** The places in an order that the seed gives, and that a change elsewhere in the code leaves as it is. */
export function shuffled(sites, seed) {
  const rank = (site) =>
    createHash('sha256')
      .update(`${String(seed)} ${site.key}`)
      .digest('hex');
  return sites
    .map((site) => ({ site, by: rank(site) }))
    .sort((a, b) => (a.by < b.by ? -1 : 1))
    .map(({ site }) => site);
}

/**
 * A sample: the first `most`, or, where `each` is given, the first so many of each part that `each.of` tells apart.
 *
 * @param {readonly Site[]} sites
 * @param {number | string} seed
 * @param {{ most: number, each: { most: number, of: (site: Site) => string } | null }} how
 */
export function drawn(sites, seed, { most, each }) {
  const order = shuffled(sites, seed);
  if (each === null) return order.slice(0, most);
  const counts = new Map();
  return order.filter((site) => {
    const part = each.of(site);
    const count = (counts.get(part) ?? 0) + 1;
    counts.set(part, count);
    return count <= each.most;
  });
}

/**
 * The text of a file with both forms at every place given: which one runs is asked of `globalThis.mutants`, by number.
 *
 * @param {string} text
 * @param {readonly Site[]} sites of the file
 * @param {ReadonlyMap<Site, number>} numbers
 */
export function instrumented(text, sites, numbers) {
  const ordered = inOrder(sites);
  const render = (from, to, inner, edit) => {
    let out = '';
    let at = from;
    for (let i = 0; i < inner.length;) {
      const site = inner[i];
      let next = i + 1;
      while (next < inner.length && inner[next].start < site.end) next += 1;
      const within = inner.slice(i + 1, next);
      const asIs = render(site.start, site.end, within, null);
      // One change runs at a time: within a changed form nothing else is.
      const changed = render(site.start, site.end, [], site);
      out += piece(at, site.start, edit);
      out += `(globalThis.mutants?.at(${String(numbers.get(site))}) ? ${changed} : ${asIs})`;
      at = site.end;
      i = next;
    }
    return out + piece(at, to, edit);
  };
  const piece = (from, to, edit) => {
    if (edit === null || edit.editStart < from || edit.editEnd > to) return text.slice(from, to);
    return text.slice(from, edit.editStart) + edit.editText + text.slice(edit.editEnd, to);
  };
  return render(0, text.length, ordered, null);
}

/** The text of a file that only tells which of its places are run: it does not grow with how deep they lie in each other. */
export function marked(text, sites, numbers) {
  const cuts = inOrder(sites).flatMap((site, depth) => [
    { at: site.start, by: depth, put: `(globalThis.mutants?.at(${String(numbers.get(site))}), ` },
    { at: site.end, by: -1, put: ')' },
  ]);
  let out = '';
  let from = 0;
  for (const { at, put } of cuts.sort((a, b) => a.at - b.at || a.by - b.by)) {
    out += text.slice(from, at) + put;
    from = at;
  }
  return out + text.slice(from);
}

const inOrder = (sites) => [...sites].sort((a, b) => a.start - b.start || b.end - a.end);
