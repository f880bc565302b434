import ts from 'typescript';

/**
 * Lint rule: no list is spread into the arguments of a call. Each element takes a place on the stack, so that a list of
 * some hundred thousand ends the process; a tuple, a literal and the rest parameter of a function are of stated length.
 */
export const unboundedSpread = {
  meta: {
    type: 'problem',
    schema: [],
    messages: {
      unbounded:
        'bounded: a list of any length as arguments overflows the stack; use largestOf, smallestOf, pushAll, failureOf or a loop',
    },
  },
  create(context) {
    const services = context.sourceCode.parserServices;
    const checker = services.program.getTypeChecker();
    const isFixedTuple = (type) => {
      if (type.isUnion()) return type.types.every(isFixedTuple);
      return checker.isTupleType(type) && (type.target.combinedFlags & ts.ElementFlags.Variable) === 0;
    };
    const isRestParameter = (node) => {
      if (node.type !== 'Identifier') return false;
      let scope = context.sourceCode.getScope(node);
      while (scope !== null && !scope.set.has(node.name)) scope = scope.upper;
      return (
        scope?.set
          .get(node.name)
          ?.defs.some((def) => def.type === 'Parameter' && def.name.parent.type === 'RestElement') ?? false
      );
    };
    const check = (node) => {
      for (const argument of node.arguments) {
        if (argument.type !== 'SpreadElement') continue;
        const list = argument.argument;
        if (isStated(list)) continue;
        context.report({ node: argument, messageId: 'unbounded' });
      }
    };
    // A literal counts when what it spreads in turn is of stated length.
    const isStated = (list) => {
      if (list.type === 'ArrayExpression')
        return list.elements.every((element) => element?.type !== 'SpreadElement' || isStated(element.argument));
      if (list.type === 'ConditionalExpression') return isStated(list.consequent) && isStated(list.alternate);
      return isRestParameter(list) || isFixedTuple(services.getTypeAtLocation(list));
    };
    return { CallExpression: check, NewExpression: check };
  },
};
