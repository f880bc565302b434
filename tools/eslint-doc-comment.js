/** Lint rule: an exported function, or a constant that holds one, has a doc comment right above it. */
export const docComment = {
  meta: {
    type: 'suggestion',
    schema: [],
    messages: { missing: "'{{name}}' is exported without a doc comment: say its purpose, units, signs and source" },
  },
  create(context) {
    const source = context.sourceCode;
    const isDocumented = (node) => {
      const comment = source.getCommentsBefore(node).at(-1);
      return comment?.type === 'Block' && comment.value.startsWith('*');
    };
    // Overloads stand one above the other; the first one carries the comment.
    const isLaterOverload = (node, name) => {
      const siblings = node.parent.body;
      const previous = siblings[siblings.indexOf(node) - 1];
      return previous?.declaration?.id?.name === name;
    };
    return {
      ExportNamedDeclaration(node) {
        const declaration = node.declaration;
        const isFunction = declaration?.type === 'FunctionDeclaration' || declaration?.type === 'TSDeclareFunction';
        const isArrow =
          declaration?.type === 'VariableDeclaration' &&
          declaration.declarations[0]?.init?.type === 'ArrowFunctionExpression';
        if (!isFunction && !isArrow) return;
        const name = isFunction ? declaration.id.name : declaration.declarations[0].id.name;
        if (!isDocumented(node) && !isLaterOverload(node, name))
          context.report({ node, messageId: 'missing', data: { name } });
      },
    };
  },
};
