// What the catalogue holds and what the pages take of it: its leaves, sample arguments from their types, and each use.
import ts from 'typescript';
import { pathOf, type Project, visit } from '../architecture/sources.ts';

/** A text, a list of texts, or a function that makes one. */
export type Leaf = string | readonly string[] | ((...args: unknown[]) => unknown);

/** Ones and somethings, or many and nothings. */
export type SampleKind = 'some' | 'none';

const CATALOGUE = /^dashboard\/format\/\w*[wW]ords\.\w\w\.ts$/;
const ENGLISH = /^dashboard\/format\/\w*[wW]ords\.en\.ts$/;

/** The leaves of a catalogue by their paths, such as "mix.start". */
export function leavesOf(words: object, above = ''): Map<string, Leaf> {
  const found = new Map<string, Leaf>();
  for (const [key, value] of Object.entries(words) as [string, unknown][]) {
    const path = above === '' ? key : `${above}.${key}`;
    if (typeof value === 'object' && value !== null && !Array.isArray(value)) {
      for (const [below, leaf] of leavesOf(value, path)) found.set(below, leaf);
    } else found.set(path, value as Leaf);
  }
  return found;
}

/** The paths that some page reads. */
export function findUsedPaths(project: Project): Set<string> {
  const declared = declaredPaths(project);
  const used = new Set<string>();
  const use = (symbol: ts.Symbol | undefined): boolean => {
    const paths = (symbol?.declarations ?? []).flatMap((node) => declared.get(node) ?? []);
    for (const path of paths) used.add(path);
    return paths.length > 0;
  };
  for (const file of project.files) {
    const path = pathOf(file);
    if (!path.startsWith('dashboard/') || CATALOGUE.test(path)) continue;
    visit(file, (node) => useOf(node, { ...project, declared, use, used }));
  }
  return used;
}

/** Arguments for each function of the catalogue, from the types of its parameters. */
export function sampleArguments({ files, checker }: Project, kind: SampleKind): Map<string, unknown[]> {
  const file = files.find((each) => pathOf(each) === 'dashboard/format/wholeWords.en.ts');
  const declaration = file?.statements
    .filter(ts.isVariableStatement)
    .flatMap(({ declarationList }) => declarationList.declarations)
    .find(({ name }) => ts.isIdentifier(name) && name.text === 'wordsEn');
  if (declaration === undefined) throw new Error('there is no wordsEn');
  const found = new Map<string, unknown[]>();
  const walk = (type: ts.Type, above: string): void => {
    for (const property of type.getProperties()) {
      const path = above === '' ? property.name : `${above}.${property.name}`;
      const inner = checker.getTypeOfSymbolAtLocation(property, declaration);
      const [signature] = inner.getCallSignatures();
      if (signature !== undefined) {
        const parameters = signature.getParameters();
        found.set(
          path,
          parameters.map((parameter, index) =>
            sampleOf(checker.getTypeOfSymbolAtLocation(parameter, declaration), {
              checker,
              kind,
              name: `⟨${index}⟩`,
              at: declaration,
            }),
          ),
        );
      } else if (isContainer(inner, checker)) walk(inner, path);
    }
  };
  walk(checker.getTypeAtLocation(declaration), '');
  return found;
}

interface Sampling {
  readonly checker: ts.TypeChecker;
  readonly kind: SampleKind;
  /** A mark that is found again in the text. */
  readonly name: string;
  readonly at: ts.Node;
}

function sampleOf(type: ts.Type, sampling: Sampling): unknown {
  const { checker, kind, name, at } = sampling;
  const parts = type.isUnion() ? type.types : [type];
  const isNullable = parts.some((part) => (part.flags & ts.TypeFlags.Null) !== 0);
  if (isNullable && kind === 'none') return null;
  const [part = type] = parts.filter(({ flags }) => (flags & ts.TypeFlags.Null) === 0);
  if ((part.flags & ts.TypeFlags.StringLike) !== 0) return name;
  if ((part.flags & ts.TypeFlags.NumberLike) !== 0) return kind === 'some' ? 1 : 7;
  if ((part.flags & ts.TypeFlags.BooleanLike) !== 0) return kind === 'some';
  if (checker.isArrayType(part)) return kind === 'some' ? [name] : [];
  return Object.fromEntries(
    part.getProperties().map((property) => {
      const inner = checker.getTypeOfSymbolAtLocation(property, at);
      return [property.name, sampleOf(inner, { ...sampling, name: `⟨${property.name}⟩` })];
    }),
  );
}

function isContainer(type: ts.Type, checker: ts.TypeChecker): boolean {
  return (type.flags & ts.TypeFlags.Object) !== 0 && !checker.isArrayType(type);
}

/** Where each path of the English catalogue is written down. */
function declaredPaths({ files, checker }: Project): Map<ts.Node, string[]> {
  const declared = new Map<ts.Node, string[]>();
  const walk = (literal: ts.Expression, above: string): void => {
    const bare =
      ts.isSatisfiesExpression(literal) || ts.isAsExpression(literal) ? literal.expression : literal;
    if (!ts.isObjectLiteralExpression(bare)) return;
    for (const property of bare.properties) {
      if (property.name === undefined) continue;
      const key =
        ts.isIdentifier(property.name) || ts.isStringLiteral(property.name) ? property.name.text : '';
      const path = above === '' ? key : `${above}.${key}`;
      declared.set(property, [...(declared.get(property) ?? []), path]);
      if (ts.isPropertyAssignment(property)) walk(property.initializer, path);
      if (!ts.isShorthandPropertyAssignment(property)) continue;
      const named = checker.getShorthandAssignmentValueSymbol(property)?.valueDeclaration;
      if (named !== undefined && ts.isVariableDeclaration(named) && named.initializer !== undefined) {
        walk(named.initializer, path);
      }
    }
  };
  for (const file of files.filter((each) => ENGLISH.test(pathOf(each)))) {
    for (const statement of file.statements.filter(ts.isVariableStatement)) {
      const isExported = statement.modifiers?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword);
      for (const { initializer } of statement.declarationList.declarations) {
        if (isExported === true && initializer !== undefined) walk(initializer, '');
      }
    }
  }
  return declared;
}

interface Looking extends Project {
  readonly declared: ReadonlyMap<ts.Node, string[]>;
  readonly use: (symbol: ts.Symbol | undefined) => boolean;
  readonly used: Set<string>;
}

function useOf(node: ts.Node, looking: Looking): void {
  const { checker, use } = looking;
  if (ts.isPropertyAccessExpression(node)) use(checker.getSymbolAtLocation(node.name));
  if (ts.isBindingElement(node)) {
    const name = node.propertyName ?? node.name;
    const key = ts.isIdentifier(name) || ts.isStringLiteral(name) ? name.text : '';
    use(checker.getTypeAtLocation(node.parent).getProperty(key));
  }
  if (ts.isElementAccessExpression(node)) useByKey(node, looking);
  if (ts.isExpression(node) && ts.isCallExpression(node.parent) && node.parent.arguments.includes(node)) {
    useAsOther(node, looking);
  }
}

/** `words.stage[stage]` reads each text that the key may name. */
function useByKey({ expression, argumentExpression }: ts.ElementAccessExpression, looking: Looking): void {
  const { checker, use, used, declared } = looking;
  const container = checker.getTypeAtLocation(expression);
  const keyType = checker.getTypeAtLocation(argumentExpression);
  const keys = (keyType.isUnion() ? keyType.types : [keyType]).flatMap((type) =>
    type.isStringLiteral() ? [type.value] : [],
  );
  const own = ts.isPropertyAccessExpression(expression)
    ? checker.getSymbolAtLocation(expression.name)
    : undefined;
  const above = (own?.declarations ?? []).flatMap((each) => declared.get(each) ?? []);
  for (const key of keys) {
    // A table typed by its keys has no declaration of its own for each of them.
    if (!use(container.getProperty(key))) for (const path of above) used.add(`${path}.${key}`);
  }
}

/** A part of the catalogue that is handed on as something else is read as far as that names it. */
function useAsOther(argument: ts.Expression, { checker, use }: Looking): void {
  const wanted = checker.getContextualType(argument);
  if (wanted === undefined) return;
  const given = checker.getTypeAtLocation(argument);
  if (given === wanted) return;
  for (const { name } of wanted.getProperties()) use(given.getProperty(name));
}
