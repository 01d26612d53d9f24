// Finds exports that do not say what they are: in the engine with unit, parameters and source, elsewhere in a sentence.
import ts from 'typescript';
import { pathOf, type Project, type Violation, visit, violationAt } from './sources.ts';
import { isNumeric } from './unitNames.ts';

interface Exported {
  readonly name: string;
  /** What carries the comment. */
  readonly statement: ts.Statement;
  /** Null for types and plain values. */
  readonly callable: ts.SignatureDeclaration | null;
  readonly declaration: ts.Declaration;
}

const unitBracket = /\[[^\]]+\]/;
const tagOrder = ['param', 'returns', 'throws', 'source'];

/** Engine exports whose doc comment lacks a unit, a parameter, what is returned or thrown, or the source. */
export function findUndocumentedEngine({ files, checker }: Project): Violation[] {
  return files
    .filter((file) => pathOf(file).startsWith('server/engine/'))
    .flatMap((file) => exportsOf(file))
    .flatMap((exported) => {
      const says = lacksOf(exported, checker);
      return says.map((each) => violationAt(exported.declaration, `${exported.name}: ${each}`));
    });
}

/** Exported functions outside the engine without a comment directly above. */
export function findUncommentedFunctions(files: readonly ts.SourceFile[]): Violation[] {
  return files
    .filter((file) => !pathOf(file).startsWith('server/engine/'))
    .flatMap((file) => exportsOf(file))
    .filter(({ callable, statement }) => callable !== null && !hasCommentAbove(statement))
    .map(({ name, declaration }) =>
      violationAt(declaration, `${name}: say in one sentence above it what it does`),
    );
}

function lacksOf({ statement, callable, declaration }: Exported, checker: ts.TypeChecker): string[] {
  const doc = docOf(statement);
  if (doc === null) return ['write a doc comment above it'];
  const summary = textOf(doc.comment);
  if (summary.trim() === '') return ['begin the doc comment with a sentence'];
  if (callable !== null) return lacksOfFunction(callable, { doc, summary, checker });
  const isNumber =
    ts.isVariableDeclaration(declaration) && isNumeric(checker.getTypeAtLocation(declaration), checker);
  return isNumber && !unitBracket.test(summary) ? ['give its unit in brackets, [1] when it has none'] : [];
}

function lacksOfFunction(
  callable: ts.SignatureDeclaration,
  { doc, summary, checker }: { doc: ts.JSDoc; summary: string; checker: ts.TypeChecker },
): string[] {
  const tags = doc.tags ?? [];
  const signature = checker.getSignatureFromDeclaration(callable);
  const returned = signature === undefined ? null : checker.getReturnTypeOfSignature(signature);
  const returnsNothing = returned !== null && (returned.flags & ts.TypeFlags.Void) !== 0;
  const returnsNumber = returned !== null && isNumeric(returned, checker);
  const has = (name: string): boolean =>
    tags.some((tag) => tagName(tag) === name && textOf(tag.comment).trim() !== '');
  const order = tags.map(tagName).filter((name) => tagOrder.includes(name));
  const isInOrder = order.every((name, at) => at === 0 || rankOf(name) >= rankOf(order[at - 1] ?? ''));
  return [
    ...(returnsNumber && !unitBracket.test(summary)
      ? ['give the unit in the summary in brackets, [1] when none']
      : []),
    ...callable.parameters.flatMap((parameter) => lacksOfParameter(parameter, { tags, checker })),
    ...(returnsNothing || has('returns') ? [] : ['say with @returns what comes back']),
    ...(throwsItself(callable) && !has('throws') ? ['say with @throws when it throws'] : []),
    ...(has('source') ? [] : ['name with @source where it comes from, or that it is our own']),
    ...(isInOrder ? [] : [`put the tags in this order: ${tagOrder.map((name) => `@${name}`).join(' ')}`]),
  ];
}

function lacksOfParameter(
  parameter: ts.ParameterDeclaration,
  { tags, checker }: { tags: readonly ts.JSDocTag[]; checker: ts.TypeChecker },
): string[] {
  const name = parameter.name.getText();
  const isNamed = ts.isIdentifier(parameter.name);
  const tag = tags.filter(ts.isJSDocParameterTag).find((each) => !isNamed || each.name.getText() === name);
  const text = textOf(tag?.comment);
  if (text.trim() === '') return [`describe with @param ${isNamed ? name : 'its options'}`];
  const lacksUnit = isNumeric(checker.getTypeAtLocation(parameter), checker) && !unitBracket.test(text);
  return lacksUnit ? [`give the unit of ${name} in brackets, [1] when it has none`] : [];
}

function exportsOf(file: ts.SourceFile): Exported[] {
  return file.statements.filter(isExportedStatement).flatMap((statement): Exported[] => {
    if (ts.isVariableStatement(statement)) {
      return statement.declarationList.declarations.map((declaration) => ({
        name: declaration.name.getText(),
        statement,
        declaration,
        callable: callableOf(declaration.initializer),
      }));
    }
    const declaration = statement as ts.Statement & ts.DeclarationStatement;
    const callable = ts.isFunctionDeclaration(statement) ? statement : null;
    return [{ name: declaration.name?.getText() ?? 'default export', statement, declaration, callable }];
  });
}

function isExportedStatement(statement: ts.Statement): boolean {
  if (!ts.canHaveModifiers(statement)) return false;
  return ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword) ?? false;
}

function callableOf(value: ts.Expression | undefined): ts.SignatureDeclaration | null {
  return value !== undefined && (ts.isArrowFunction(value) || ts.isFunctionExpression(value)) ? value : null;
}

function docOf(statement: ts.Statement): ts.JSDoc | null {
  return ts.getJSDocCommentsAndTags(statement).filter(ts.isJSDoc).at(-1) ?? null;
}

function hasCommentAbove(statement: ts.Statement): boolean {
  const file = statement.getSourceFile();
  const lineAt = (position: number): number => file.getLineAndCharacterOfPosition(position).line;
  const last = ts.getLeadingCommentRanges(file.text, statement.getFullStart())?.at(-1);
  return last !== undefined && lineAt(statement.getStart(file)) - lineAt(last.end) <= 1;
}

/** Whether its own body throws; what it calls documents itself. */
function throwsItself(callable: ts.SignatureDeclaration): boolean {
  let throws = false;
  visit(callable, (node) => {
    if (ts.isThrowStatement(node)) throws = true;
  });
  return throws;
}

function textOf(comment: string | ts.NodeArray<ts.JSDocComment> | undefined): string {
  return ts.getTextOfJSDocComment(comment) ?? '';
}

function tagName(tag: ts.JSDocTag): string {
  return tag.tagName.text === 'return' ? 'returns' : tag.tagName.text;
}

function rankOf(name: string): number {
  return tagOrder.indexOf(name);
}
