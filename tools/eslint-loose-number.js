import ts from 'typescript';

const NOT_TEXT = ts.TypeFlags.BooleanLike | ts.TypeFlags.NumberLike | ts.TypeFlags.BigIntLike | ts.TypeFlags.Undefined;

/** Lint rule: Number(x) and +x read text too loosely; of a boolean, number or big integer they are plain. */
export const looseNumber = {
  meta: {
    type: 'problem',
    schema: [],
    messages: { loose: 'numbers: read text with parseDecimal, since Number of empty text is 0' },
  },
  create(context) {
    const services = context.sourceCode.parserServices;
    const isPlain = (type) => (type.isUnion() ? type.types.every(isPlain) : (type.flags & NOT_TEXT) !== 0);
    const check = (node, argument) => {
      if (argument === undefined || !isPlain(services.getTypeAtLocation(argument)))
        context.report({ node, messageId: 'loose' });
    };
    return {
      "CallExpression[callee.name='Number']": (node) => check(node, node.arguments[0]),
      "UnaryExpression[operator='+']": (node) => check(node, node.argument),
      // Number as a function that is handed on, as in map(Number), is out of sight here.
      "CallExpression > Identifier.arguments[name='Number']": (node) => context.report({ node, messageId: 'loose' }),
    };
  },
};
