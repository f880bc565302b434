import ts from 'typescript';

/** Names of quantities: a unit ends them. */
const QUANTITY = /(?:[a-z0-9](?:M|M2|S|Ms)|Deg|Rad|Ppm|Year|Arcsec)$/;

/** Lists of text that a regular expression made: a group that matched nothing is absent, and its text is none. */
const MATCHES = new Set(['RegExpMatchArray', 'RegExpExecArray']);

/**
 * Lint rule: absent is null. `list[i] ?? 0` gives a number for what cannot happen, where `entryAt(list, i)` says that it did;
 * `list[i]?.id ?? ''` a name for it; `heightM ?? 0` makes a measurement of none; `${name ?? ''}` leaves a hole in a sentence. Where a default is meant, a comment on the line, or on the one above, says why.
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
    const isList = (node) => {
      const type = checker.getNonNullableType(services.getTypeAtLocation(node));
      return type.getNumberIndexType() !== undefined && !MATCHES.has(type.symbol?.name) && !isText(type);
    };
    /** A place of a list, or what it holds: `list[i]`, `list[i]?.id`. */
    const isOfPlace = (node) => {
      const of = bare(node);
      if (of.type !== 'MemberExpression') return false;
      return (of.computed && isList(of.object)) || (of.optional && isOfPlace(of.object));
    };
    /** Words joined with what may be missing at an end, which is then cut. */
    const isTrimmed = ({ parent }) => parent.type === 'MemberExpression' && parent.property.name === 'trim';
    const isText = (type) => (type.flags & ts.TypeFlags.StringLike) !== 0;
    const hasReason = (node) => {
      const { line } = node.loc.start;
      return source
        .getAllComments()
        .some(({ loc }) => loc.end.line === node.loc.end.line || loc.end.line === line || loc.end.line === line - 1);
    };
    return {
      "LogicalExpression[operator='??']": (node) => {
        if (!isDefault(node.right)) return;
        const left = bare(node.left);
        const name = left.type === 'Identifier' ? left.name : left.computed ? null : left.property?.name;
        const messageId = isOfPlace(left)
          ? 'indexed'
          : node.right.value === 0 && typeof name === 'string' && QUANTITY.test(name)
            ? 'quantity'
            : node.right.value === '' && node.parent.type === 'TemplateLiteral' && !isTrimmed(node.parent)
              ? 'sentence'
              : null;
        if (messageId !== null && !hasReason(node)) context.report({ node, messageId });
      },
    };
  },
};
