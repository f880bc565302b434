// Every declaration at the top of a file of src that no command and no public name reaches: left over, or meant and
// never connected. Reached are what the program and the library are entered by, what runs when a file is loaded, and
// whatever those name in turn. Members of records and of functions are not looked at.
import { dirname, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const ROOT = resolve(dirname(fileURLToPath(import.meta.url)), '..');

/** Files from which everything else is reached: the command line, a thread of it, the two public faces. */
const ENTRIES = [
  'src/cli/begin.ts',
  'src/cli/commands/reduce-points/blocks/reduce-worker.ts',
  'src/cli/commands/transform/blocks/transform-worker.ts',
  'src/index.ts',
  'src/files.ts',
];

/**
 * Given: the folder that holds tsconfig.json and src; the files it is entered by, paths below it. Returned:
 * `file: name` of each declaration that is not reached, and `file: the whole file` of each file that is not, sorted.
 */
export function unreached({ root = ROOT, entries = ENTRIES } = {}) {
  const program = programOf(root, entries);
  const checker = program.getTypeChecker();
  const source = resolve(root, 'src');
  const files = program.getSourceFiles().filter((file) => !file.isDeclarationFile && file.fileName.startsWith(source));
  const declared = new Map();
  const names = new Set();
  const waiting = [];
  for (const statement of files.flatMap((file) => [...file.statements])) {
    const own = namesOf(statement);
    for (const { name, node } of own) {
      declared.set(checker.getSymbolAtLocation(name), node);
      names.add(name.text);
    }
    if (own.length === 0 && runsWhenLoaded(statement)) waiting.push(statement);
  }
  const found = new Set();
  const reach = (symbol) => {
    if (symbol === undefined) return;
    const own = symbol.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol;
    if (found.has(own) || !declared.has(own)) return;
    found.add(own);
    waiting.push(declared.get(own));
  };
  for (const entry of entries) {
    const file = program.getSourceFile(resolve(root, entry));
    if (file === undefined) throw new Error(`there is no ${entry}`);
    const module = checker.getSymbolAtLocation(file);
    for (const symbol of module === undefined ? [] : checker.getExportsOfModule(module)) reach(symbol);
  }
  while (waiting.length > 0) readNames(waiting.pop(), { checker, names, reach });
  const place = (node) => relative(root, node.getSourceFile().fileName).replaceAll('\\', '/');
  const left = [...declared]
    .filter(([symbol]) => !found.has(symbol))
    .map(([{ name }, node]) => `${place(node)}: ${name}`);
  const known = new Set(files.map(({ fileName }) => fileName));
  const unread = ts.sys.readDirectory(source, ['.ts']).filter((name) => !known.has(name));
  return [...left, ...unread.map((name) => `${relative(root, name).replaceAll('\\', '/')}: the whole file`)].sort();
}

/** The files that the entries load, one from the other. What packages declare is not read: nothing of ours is in them. */
function programOf(root, entries) {
  const configuration = {
    ...ts.sys,
    onUnRecoverableConfigFileDiagnostic({ messageText }) {
      throw new Error(ts.flattenDiagnosticMessageText(messageText, '\n'));
    },
  };
  const { options } = ts.getParsedCommandLineOfConfigFile(
    resolve(root, 'tsconfig.json'),
    { noEmit: true, types: [] },
    configuration,
  );
  const host = {
    ...ts.createCompilerHost(options),
    resolveModuleNameLiterals: (literals, from) =>
      literals.map(({ text }) => ({ resolvedModule: ownFile(text, dirname(from)) })),
  };
  return ts.createProgram(
    entries.map((file) => resolve(root, file)),
    options,
    host,
  );
}

function ownFile(text, folder) {
  if (!text.startsWith('.')) return undefined;
  return {
    resolvedFileName: resolve(folder, text.replace(/\.js$/, '.ts')),
    extension: '.ts',
    isExternalLibraryImport: false,
  };
}

/** Reaches whatever a piece of the program names, in types as well. */
function readNames(node, search) {
  if (ts.isIdentifier(node)) readName(node, search);
  ts.forEachChild(node, (child) => readNames(child, search));
}

function readName(node, { checker, names, reach }) {
  const { parent } = node;
  // Whose property it is takes the types of half the program to say: only where it may be a declaration of a module.
  const isProperty = ts.isPropertyAccessExpression(parent) && parent.name === node;
  if (!isProperty || names.has(node.text)) reach(checker.getSymbolAtLocation(node));
  // `{ name }` is a property, and the value that it takes.
  if (ts.isShorthandPropertyAssignment(parent)) reach(checker.getShorthandAssignmentValueSymbol(parent));
  // What is taken out of a module that is loaded late: the pattern's name is its own, the property is the module's.
  if (ts.isBindingElement(parent) && ts.isObjectBindingPattern(parent.parent)) {
    const { text } = parent.propertyName ?? parent.name;
    if (names.has(text)) reach(checker.getTypeAtLocation(parent.parent).getProperty(text));
  }
}

/** What a statement declares: each name with the part of the program that stands behind it. */
function namesOf(statement) {
  if (ts.isVariableStatement(statement)) {
    const { declarations } = statement.declarationList;
    return declarations.flatMap((node) => boundNames(node.name).map((name) => ({ name, node })));
  }
  const isDeclaration =
    ts.isFunctionDeclaration(statement) ||
    ts.isClassDeclaration(statement) ||
    ts.isInterfaceDeclaration(statement) ||
    ts.isTypeAliasDeclaration(statement) ||
    ts.isEnumDeclaration(statement);
  return isDeclaration && statement.name !== undefined ? [{ name: statement.name, node: statement }] : [];
}

function boundNames(name) {
  if (ts.isIdentifier(name)) return [name];
  return name.elements.flatMap((element) => (ts.isBindingElement(element) ? boundNames(element.name) : []));
}

/** Imports and exports by name do nothing of themselves; a call, a loop or a condition does. */
function runsWhenLoaded(statement) {
  return !ts.isImportDeclaration(statement) && !ts.isExportDeclaration(statement);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) for (const line of unreached()) console.log(line);
