// Finds what may not be called where: clocks, chance, timers, environment, output and network outside the edges,
// waiting inside engine and domain; and, anywhere, what was left unfinished or switched off.
import ts from 'typescript';
import { pathOf, type Project, type Violation, visit, violationAt } from './sources.ts';

interface Ban {
  readonly global: string;
  /** Which members are banned; every use of the global when missing. */
  readonly members?: RegExp;
  readonly instead: string;
}

const askTheClock = 'ask the clock port for nowAt() or elapsedMs()';
const askForChance = 'take a seed, or an id made by an adapter, as a parameter';
const askForWake = 'ask the clock port for wakeAt() or after()';

const bans: readonly Ban[] = [
  { global: 'Date', members: /^now$/, instead: askTheClock },
  { global: 'performance', instead: askTheClock },
  { global: 'Math', members: /^random$/, instead: askForChance },
  { global: 'crypto', members: /^(random|getRandom)/, instead: askForChance },
  { global: 'setTimeout', instead: askForWake },
  { global: 'setInterval', instead: askForWake },
  { global: 'setImmediate', instead: askForWake },
  { global: 'requestAnimationFrame', instead: 'change a signal; dashboard/feed owns the ticking' },
  { global: 'process', members: /^env$/, instead: 'take a value from the parsed config as a parameter' },
  { global: 'console', instead: 'return what happened, or tell the log port' },
  { global: 'fetch', instead: 'call a port; the dashboard posts and reads through dashboard/feed' },
];

const bannedImports: readonly {
  readonly module: RegExp;
  readonly names: RegExp;
  readonly instead: string;
}[] = [
  { module: /^(node:)?crypto$/, names: /^(random|getRandom)/, instead: askForChance },
  { module: /^(node:)?timers(\/promises)?$/, names: /./, instead: askForWake },
  { module: /^(node:)?perf_hooks$/, names: /^performance$/, instead: askTheClock },
  {
    module: /^(node:)?process$/,
    names: /^env$/,
    instead: 'take a value from the parsed config as a parameter',
  },
];

const edges =
  /^server\/adapters\/|^server\/[^/]+\.ts$|^dashboard\/feed(\/|\.tsx?$)|^sensors-sim\/transport(\/|\.ts$)/;
/** Programs of their own that read their environment, once. */
const programs = new Set(['dashboard/main.tsx', 'sensors-sim/main.ts']);
const windows = new Set(['globalThis', 'window', 'self', 'global']);

/** Uses of clocks, chance, timers, environment, output and network outside the edges. */
export function findBannedUses({ files, checker }: Project): Violation[] {
  return files
    .filter((file) => !edges.test(pathOf(file)))
    .flatMap((file) => {
      const found = [...findBannedGlobals(file, checker), ...findBannedImports(file)];
      const firstRead = programs.has(pathOf(file))
        ? found.find(({ says }) => says.startsWith('process.env'))
        : null;
      return found.filter((violation) => violation !== firstRead);
    });
}

/** Waiting in engine and domain, which only compute. */
export function findWaiting(files: readonly ts.SourceFile[]): Violation[] {
  const found: Violation[] = [];
  for (const file of files.filter((each) => /^server\/(engine|domain)\//.test(pathOf(each)))) {
    visit(file, (node) => {
      const waits =
        node.kind === ts.SyntaxKind.AsyncKeyword ||
        ts.isAwaitExpression(node) ||
        (ts.isForOfStatement(node) && node.awaitModifier !== undefined) ||
        (ts.isIdentifier(node) && /^(Promise|PromiseLike)$/.test(node.text));
      if (waits)
        found.push(violationAt(node, 'waits: take the value itself, and let the application wait for it'));
    });
  }
  return found;
}

/** Any `any`, and tests that are switched off or run alone. */
export function findSwitchedOff(files: readonly ts.SourceFile[]): Violation[] {
  const found: Violation[] = [];
  for (const file of files) {
    visit(file, (node) => {
      if (node.kind === ts.SyntaxKind.AnyKeyword) {
        found.push(violationAt(node, '`any` switches the types off: use unknown and narrow it'));
      }
      const isOff = ts.isPropertyAccessExpression(node) && /^(skip|only|todo|fails)$/.test(node.name.text);
      if (isOff && isTestFunction(node.expression)) {
        const says = `.${node.name.text}: assert today's behaviour with a note instead, so that its repair is noticed`;
        found.push(violationAt(node.name, says));
      }
    });
  }
  return found;
}

/** Test names that begin with "should" or are numbered instead of saying what holds. */
export function findPoorTestNames(files: readonly ts.SourceFile[]): Violation[] {
  const found: Violation[] = [];
  for (const file of files) {
    visit(file, (node) => {
      if (!ts.isCallExpression(node) || !isTestFunction(node.expression)) return;
      const [name] = node.arguments;
      if (name === undefined || !ts.isStringLiteralLike(name)) return;
      if (/^should\b|\b(case|test) #?\d+$/i.test(name.text)) {
        found.push(violationAt(name, 'name what holds, in the present tense and with its condition'));
      }
    });
  }
  return found;
}

// Written so that this file does not find itself.
const unfinished = /\b(TO{1}DO|FIX{1}ME|X{3})\b/;
const uncheckedTypes = /@ts-(ignore|nocheck)\b/;

/** Unfinished work and unchecked types, in any text. */
export function findLeftovers(path: string, text: string): Violation[] {
  return text.split('\n').flatMap((line, index) => {
    const place = `${path}:${index + 1}`;
    return [
      ...(unfinished.test(line)
        ? [{ place, says: 'unfinished: finish it, or write an issue and leave no mark' }]
        : []),
      ...(uncheckedTypes.test(line)
        ? [{ place, says: 'mend the type; a test of types uses @ts-expect-error' }]
        : []),
    ];
  });
}

function findBannedGlobals(file: ts.SourceFile, checker: ts.TypeChecker): Violation[] {
  const found: Violation[] = [];
  visit(file, (node) => {
    if (!ts.isIdentifier(node) || isTypeOrName(node)) return;
    const ban = bans.find(({ global }) => global === node.text);
    if (ban === undefined || !isGlobal(node, checker)) return;
    const use = usesOf(node, ban);
    if (use !== null) found.push(violationAt(node, `${use} outside the edges: ${ban.instead}`));
  });
  return found;
}

/** How a banned thing is used here, as one would write it; null when this use is free. */
function usesOf(node: ts.Identifier, { global, members }: Ban): string | null {
  const whole = isMember(node) ? node.parent : node;
  const { parent } = whole;
  if (global === 'Date' && isTheNow(whole)) return 'new Date() without an argument';
  if (members === undefined) return global;
  const names = ts.isVariableDeclaration(parent) ? takenNames(parent) : [accessedName(whole)];
  const name = names.find((each) => each !== null && members.test(each));
  return name === undefined || name === null ? null : `${global}.${name}`;
}

function isTheNow(whole: ts.Node): boolean {
  const { parent } = whole;
  if (ts.isNewExpression(parent) && parent.expression === whole) return (parent.arguments?.length ?? 0) === 0;
  return ts.isCallExpression(parent) && parent.expression === whole;
}

function accessedName(whole: ts.Node): string | null {
  const { parent } = whole;
  if (ts.isPropertyAccessExpression(parent) && parent.expression === whole) return parent.name.text;
  const isIndexed = ts.isElementAccessExpression(parent) && parent.expression === whole;
  return isIndexed && ts.isStringLiteralLike(parent.argumentExpression)
    ? parent.argumentExpression.text
    : null;
}

function takenNames({ name }: ts.VariableDeclaration): string[] {
  if (!ts.isObjectBindingPattern(name)) return [];
  return name.elements.map((element) => (element.propertyName ?? element.name).getText());
}

function findBannedImports(file: ts.SourceFile): Violation[] {
  return file.statements.filter(ts.isImportDeclaration).flatMap((statement) => {
    const module = ts.isStringLiteral(statement.moduleSpecifier) ? statement.moduleSpecifier.text : '';
    const bindings = statement.importClause?.namedBindings;
    const elements = bindings !== undefined && ts.isNamedImports(bindings) ? [...bindings.elements] : [];
    return bannedImports
      .filter((ban) => ban.module.test(module))
      .flatMap(({ names, instead }) =>
        elements
          .filter(({ name, propertyName }) => names.test((propertyName ?? name).text))
          .map((element) => violationAt(element, `${module} outside the edges: ${instead}`)),
      );
  });
}

/** Whether an identifier only names something, or stands in a type. */
function isTypeOrName(node: ts.Identifier): boolean {
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent)) return parent.name === node && !isMember(node);
  if (ts.isShorthandPropertyAssignment(parent)) return false;
  if ('name' in parent && parent.name === node) return true;
  return ts.isTypeNode(parent) || ts.isQualifiedName(parent) || ts.isImportSpecifier(parent);
}

/** `window.setTimeout` is the global as well. */
function isMember(node: ts.Identifier): boolean {
  const { parent } = node;
  if (!ts.isPropertyAccessExpression(parent) || parent.name !== node) return false;
  return ts.isIdentifier(parent.expression) && windows.has(parent.expression.text);
}

/** Declared by the language, the browser or Node, and not by us under the same name. */
function isGlobal(node: ts.Identifier, checker: ts.TypeChecker): boolean {
  if (isMember(node)) return true;
  const named = ts.isShorthandPropertyAssignment(node.parent)
    ? checker.getShorthandAssignmentValueSymbol(node.parent)
    : checker.getSymbolAtLocation(node);
  const isImported = named !== undefined && (named.flags & ts.SymbolFlags.Alias) !== 0;
  const declarations = (isImported ? checker.getAliasedSymbol(named) : named)?.declarations ?? [];
  return declarations.every((declaration) => declaration.getSourceFile().isDeclarationFile);
}

function isTestFunction(node: ts.Expression): boolean {
  let root: ts.Expression = node;
  while (ts.isPropertyAccessExpression(root) || ts.isCallExpression(root)) root = root.expression;
  return ts.isIdentifier(root) && /^(describe|it|test|suite|bench)$/.test(root.text);
}
