// Finds files and functions that have outgrown a reader: too long, too many parameters, easily swapped ones, barrels.
import ts from 'typescript';
import { pathOf, type Project, type Violation, visit, violationAt } from './sources.ts';

export const fileLinesMax = 300;
export const bodyLinesMax = 60;
const parametersMax = 4;

type WithBody = ts.FunctionLikeDeclaration & { readonly body: ts.ConciseBody };

const barrels = new Set(['server/engine/index.ts', 'server/contract/index.ts']);
const orderNames = /^(compare|by[A-Z])|Between$/;

/** Files longer than a reader holds; tables at the top level that are nothing but values do not count. */
export function findLongFiles(files: readonly ts.SourceFile[]): Violation[] {
  return files.flatMap((file) => {
    const lineCount = file.text.trimEnd().split('\n').length - tableLines(file);
    if (lineCount <= fileLinesMax) return [];
    const says = `${lineCount} lines without its tables, at most ${fileLinesMax}: split it at its main exports`;
    return [{ place: `${pathOf(file)}:1`, says }];
  });
}

/** Functions whose body is longer than a screen. */
export function findLongFunctions(files: readonly ts.SourceFile[]): Violation[] {
  return functionsOf(files).flatMap((node) => {
    const lineCount = bodyLines(node);
    if (lineCount <= bodyLinesMax) return [];
    const says = `${nameOf(node)} has a body of ${lineCount} lines, at most ${bodyLinesMax}: name its steps as functions`;
    return [violationAt(node, says)];
  });
}

/** Functions with more positional parameters than a caller keeps apart. */
export function findManyParameters(files: readonly ts.SourceFile[]): Violation[] {
  return functionsOf(files).flatMap((node) => {
    const count = parametersOf(node).length;
    if (count <= parametersMax) return [];
    const says = `${nameOf(node)} takes ${count} parameters, at most ${parametersMax}: gather them in an options object`;
    return [violationAt(node, says)];
  });
}

/**
 * Exported functions outside the engine with two neighbouring parameters of one type: a caller can swap them unseen.
 * Comparisons are let through, since the language calls them by position, and `…Between`, since it says from and to.
 */
export function findSwappableParameters({ files, checker }: Project): Violation[] {
  const outside = files.filter((file) => !pathOf(file).startsWith('server/engine/'));
  return functionsOf(outside)
    .filter((node) => isExported(node) && !orderNames.test(nameOf(node)))
    .flatMap((node) => {
      const parameters = parametersOf(node);
      return parameters.slice(1).flatMap((right, before) => {
        const left = parameters[before];
        if (left === undefined || !haveSameType(left, right, checker)) return [];
        const names = `\`${left.name.getText()}\` and \`${right.name.getText()}\``;
        const says = `${nameOf(node)}: ${names} have one type and can be swapped unseen: name them in an options object, or brand them`;
        return [violationAt(right, says)];
      });
    });
}

/** Exports of what was imported, outside the two gates. */
export function findBarrels(files: readonly ts.SourceFile[]): Violation[] {
  return files
    .filter((file) => !barrels.has(pathOf(file)))
    .flatMap((file) => {
      const imported = new Set(file.statements.filter(ts.isImportDeclaration).flatMap(importedNames));
      return file.statements.filter((node) => passesOn(node, imported));
    })
    .map((node) =>
      violationAt(node, 'passes on an export of another file: let readers import it from there'),
    );
}

function passesOn(node: ts.Statement, imported: ReadonlySet<string>): boolean {
  if (ts.isExportAssignment(node))
    return ts.isIdentifier(node.expression) && imported.has(node.expression.text);
  if (!ts.isExportDeclaration(node)) return false;
  if (node.moduleSpecifier !== undefined) return true;
  const clause = node.exportClause;
  return (
    clause !== undefined &&
    ts.isNamedExports(clause) &&
    clause.elements.some(({ name, propertyName }) => imported.has((propertyName ?? name).text))
  );
}

function importedNames({ importClause }: ts.ImportDeclaration): string[] {
  const bindings = importClause?.namedBindings;
  const named = bindings === undefined ? [] : ts.isNamedImports(bindings) ? bindings.elements : [bindings];
  return [importClause, ...named].flatMap((node) => (node?.name === undefined ? [] : [node.name.text]));
}

function functionsOf(files: readonly ts.SourceFile[]): WithBody[] {
  const found: WithBody[] = [];
  for (const file of files) {
    visit(file, (node) => {
      if (ts.isFunctionLike(node) && 'body' in node && node.body !== undefined) found.push(node as WithBody);
    });
  }
  return found;
}

function bodyLines({ body }: WithBody): number {
  const file = body.getSourceFile();
  const [first, last] = [body.getStart(file), body.getEnd()].map(
    (position) => file.getLineAndCharacterOfPosition(position).line,
  );
  const spanned = (last ?? 0) - (first ?? 0);
  return ts.isBlock(body) ? Math.max(0, spanned - 1) : spanned + 1;
}

function parametersOf(node: WithBody): ts.ParameterDeclaration[] {
  return node.parameters.filter((parameter) => parameter.name.getText() !== 'this');
}

function haveSameType(
  left: ts.ParameterDeclaration,
  right: ts.ParameterDeclaration,
  checker: ts.TypeChecker,
): boolean {
  const [leftType, rightType] = [checker.getTypeAtLocation(left), checker.getTypeAtLocation(right)];
  return checker.isTypeAssignableTo(leftType, rightType) && checker.isTypeAssignableTo(rightType, leftType);
}

/** Exported itself, or a public member of something exported. */
function isExported(node: WithBody): boolean {
  const declared = ts.isVariableDeclaration(node.parent) ? node.parent.parent.parent : node;
  const holder = ts.isClassLike(declared.parent) ? declared.parent : declared;
  const isHidden = ts.getCombinedModifierFlags(node) & ts.ModifierFlags.Private;
  return isHidden === 0 && ts.canHaveModifiers(holder) && hasExport(ts.getModifiers(holder));
}

function hasExport(modifiers: readonly ts.Modifier[] | undefined): boolean {
  return modifiers?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword) ?? false;
}

function nameOf(node: WithBody): string {
  if (ts.isConstructorDeclaration(node)) return `${node.parent.name?.text ?? 'class'} constructor`;
  const named =
    ts.isVariableDeclaration(node.parent) || ts.isPropertyAssignment(node.parent) ? node.parent : node;
  return named.name?.getText() ?? 'a function without name';
}

function tableLines(file: ts.SourceFile): number {
  const lineAt = (position: number): number => file.getLineAndCharacterOfPosition(position).line;
  return file.statements
    .filter((node) => ts.isVariableStatement(node) && node.declarationList.declarations.every(isTable))
    .reduce((sum, node) => sum + lineAt(node.getEnd()) - lineAt(node.getStart(file)) + 1, 0);
}

/** A list or record of plain values: nothing is called, nothing decided. */
function isTable({ initializer }: ts.VariableDeclaration): boolean {
  let value = initializer;
  while (value !== undefined && (ts.isAsExpression(value) || ts.isSatisfiesExpression(value)))
    value = value.expression;
  if (value === undefined || !(ts.isArrayLiteralExpression(value) || ts.isObjectLiteralExpression(value)))
    return false;
  let isPlain = true;
  visit(value, (node) => {
    if (ts.isFunctionLike(node) || ts.isCallLikeExpression(node)) isPlain = false;
  });
  return isPlain;
}
