import ts from 'typescript';

/** Names of quantities: a unit ends them. */
const QUANTITY = /(?:[a-z0-9](?:M|M2|S|Ms)|Deg|Rad|Ppm|Year|Arcsec)$/;

/** Lists of text that a regular expression made: a group that matched nothing is absent, and its text is none. */
const MATCHES = new Set(['RegExpMatchArray', 'RegExpExecArray']);

/** Lists by a key of which there may be none: the keys that are not there have counted nothing. */
const KEYED = new Set(['Map', 'ReadonlyMap', 'WeakMap']);

/**
 * Lint rule: absent is null. `list[i] ?? 0` gives a number for what cannot happen, where `entryAt(list, i)` says that it did;
 * `list[i]?.id ?? ''` a name for it; `heightM ?? 0` makes a measurement of none; `${name ?? ''}` leaves a hole in a sentence.
 * Where 0, '' or [] is meant, a comment on the line, or on the one above, says why. Four forms say it themselves: what a map has counted
 * or listed under a key that it has not; the length of no list; a group of a regular expression that matched nothing; and
 * `flatMap` over what may be absent, which leaves it out.
 */
export const absentIsNull = {
  meta: {
    type: 'problem',
    schema: [],
    messages: {
      indexed:
        'absent: read a place that is there with entryAt(list, i), or say in a comment what it means that it is not',
      quantity:
        'absent: a quantity that is not known is not 0; use present(value, what) where it cannot be absent, or say in a comment why 0 is right',
      sentence:
        'absent: a text without this word reads wrong; use present(value, what) where it cannot be absent, or say in a comment what stands there without it',
      plain:
        "absent: 0, '' and [] are values; use present(value, what) where none can be absent, hand null on where it means something, or say in a comment why the default is right",
    },
  },
  create(context) {
    const source = context.sourceCode;
    const services = source.parserServices;
    const checker = services.program.getTypeChecker();
    const isDefault = (node) =>
      (node.type === 'Literal' && (node.value === 0 || node.value === '')) ||
      (node.type === 'ArrayExpression' && node.elements.length === 0);
    const bare = (node) =>
      ['TSAsExpression', 'TSNonNullExpression', 'ChainExpression'].includes(node.type) ? bare(node.expression) : node;
    const typeOf = (node) => checker.getNonNullableType(services.getTypeAtLocation(node));
    const nameOfType = (node) => typeOf(node).symbol?.name;
    const isList = (node) =>
      typeOf(node).getNumberIndexType() !== undefined && !MATCHES.has(nameOfType(node)) && !isText(typeOf(node));
    /** A place of a list, or what it holds: `list[i]`, `list[i]?.id`. */
    const isOfPlace = (node) => {
      const of = bare(node);
      if (of.type !== 'MemberExpression') return false;
      return (of.computed && isList(of.object)) || (of.optional && isOfPlace(of.object));
    };
    /** Words joined with what may be missing at an end, which is then cut. */
    const isTrimmed = ({ parent }) => parent.type === 'MemberExpression' && parent.property.name === 'trim';
    const isText = (type) => (type.flags & ts.TypeFlags.StringLike) !== 0;
    const nameOf = (node) => (node.type === 'Identifier' ? node.name : node.computed ? null : node.property?.name);
    const isQuantity = (node) => QUANTITY.test(nameOf(node) ?? '');
    /** `map.get(key) ?? 0`, `map.get(key) ?? []`; a map of quantities counts nothing. */
    const isUnderKey = (of, fallback) =>
      fallback.value !== '' &&
      of.type === 'CallExpression' &&
      of.callee.type === 'MemberExpression' &&
      of.callee.property.name === 'get' &&
      KEYED.has(nameOfType(of.callee.object)) &&
      !isQuantity(of.callee.object);
    /** `list?.length ?? 0`. */
    const isLength = (of) =>
      of.type === 'MemberExpression' && of.optional && ['length', 'size'].includes(of.property.name);
    /** `match[1] ?? ''`, `match?.groups?.['name'] ?? ''`, `text.match(pattern) ?? []`. */
    const isOfMatch = (of) =>
      MATCHES.has(nameOfType(of)) ||
      (of.type === 'MemberExpression' &&
        of.computed &&
        (MATCHES.has(nameOfType(of.object)) || bare(of.object).property?.name === 'groups'));
    /** `flatMap(({ place }) => place ?? [])`. */
    const isLeftOut = ({ parent }) => {
      const made = parent.type === 'ReturnStatement' ? parent.parent.parent : parent;
      return (
        made.type === 'ArrowFunctionExpression' &&
        made.parent.type === 'CallExpression' &&
        made.parent.callee.property?.name === 'flatMap'
      );
    };
    const hasReason = (node) => {
      const { line } = node.loc.start;
      return source
        .getAllComments()
        .some(({ loc }) => loc.end.line === node.loc.end.line || loc.end.line === line || loc.end.line === line - 1);
    };
    const messageOf = (node, left) => {
      if (isOfPlace(left)) return 'indexed';
      if (node.right.value === 0 && isQuantity(left)) return 'quantity';
      if (node.right.value === '' && node.parent.type === 'TemplateLiteral' && !isTrimmed(node.parent))
        return 'sentence';
      return isUnderKey(left, node.right) || isLength(left) || isOfMatch(left) || isLeftOut(node) ? null : 'plain';
    };
    return {
      "LogicalExpression[operator='??']": (node) => {
        if (!isDefault(node.right) || hasReason(node)) return;
        const messageId = messageOf(node, bare(node.left));
        if (messageId !== null) context.report({ node, messageId });
      },
    };
  },
};
