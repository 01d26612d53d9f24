// Finds numbers whose name does not say their unit: in fields, parameters, module variables and wire schemas.
// Variables and callbacks inside function bodies are exempt: there a formula may use its own symbols.
import ts from 'typescript';
import {
  countedThings,
  dimensionlessNames,
  dimensionlessWords,
  foreignNames,
  instantNames,
} from './dimensionless.ts';
import { pathOf, type Project, type Violation, visit, violationAt } from './sources.ts';
import { unitSuffixes } from './units.ts';

type Named = ts.PropertySignature | ts.PropertyDeclaration | ts.ParameterDeclaration | ts.VariableDeclaration;

const numberLists = new Set(['Float64Array', 'Float32Array', 'Int32Array', 'Uint32Array']);
const instantBrand = 'Instant';

/** The numeric names of a project that end in no unit and are not on the dimensionless list. */
export function findUnitlessNames({ files, checker }: Project): Violation[] {
  const found: Violation[] = [];
  const check = (node: ts.Node, name: string, type: ts.Type): void => {
    if (!isNumeric(type, checker) || isFlag(name, type)) return;
    if (foreignNames[pathOf(node.getSourceFile())]?.includes(name)) return;
    if (
      isInstant(type)
        ? endsInAt(name) || Object.hasOwn(instantNames, name)
        : endsInUnit(name) || isDimensionless(name)
    )
      return;
    found.push(violationAt(node, adviceFor(name, isInstant(type))));
  };
  for (const file of files) {
    const hasSchemas = importsZod(file);
    visit(file, (node) => {
      if (isNamedOutside(node) && ts.isIdentifier(node.name)) {
        check(node.name, node.name.text, checker.getTypeAtLocation(node));
      }
      if (hasSchemas && isSchemaKey(node)) {
        const schemaOutput = schemaOutputOf(node.initializer, checker);
        if (schemaOutput !== null) check(node.name, node.name.text, schemaOutput);
      }
    });
  }
  return found;
}

/** Whether a name ends in a unit, or is an instant's. */
function endsInUnit(name: string): boolean {
  return endsInAt(name) || unitSuffixes.some((unit) => endsInWord(name, unit));
}

/** Whether a name is, or ends in, a word of the dimensionless list; Min and Max may follow the word. */
function isDimensionless(name: string): boolean {
  const camel = camelFrom(name);
  if (Object.hasOwn(dimensionlessNames, camel) || camel.startsWith('probability')) return true;
  const bare = camel.replace(/(?<=[a-z0-9])(Max|Min)$/, '');
  if (
    bare !== camel &&
    countedThings.some((thing) => bare === thing || endsInWord(bare, capitalised(thing)))
  ) {
    return true;
  }
  return Object.keys(dimensionlessWords).some((word) => endsInNoun(bare, word));
}

function endsInNoun(name: string, noun: string): boolean {
  const plural = noun.endsWith('y')
    ? `${noun.slice(0, -1)}ies`
    : `${noun}${/(s|x|z|ch)$/.test(noun) ? 'es' : 's'}`;
  return [noun, plural, noun.replace(/ex$/, 'ices')].some(
    (word) => name === word || endsInWord(name, capitalised(word)),
  );
}

function capitalised(word: string): string {
  return word.slice(0, 1).toUpperCase() + word.slice(1);
}

function endsInAt(name: string): boolean {
  return camelFrom(name) === 'at' || endsInWord(name, 'At');
}

function endsInWord(name: string, word: string): boolean {
  const camel = camelFrom(name);
  // SCREAMING_NAMES lose the case inside a unit: KJ_PER_MOL stands for KJPerMol.
  const ending = isScreaming(name) ? camel.toLowerCase().endsWith(word.toLowerCase()) : camel.endsWith(word);
  const before = camel.at(-word.length - 1) ?? '';
  const startsWord = isScreaming(name) ? /^[A-Z]/.test(camel.slice(-word.length)) : /[a-z0-9]/.test(before);
  return ending && startsWord;
}

function camelFrom(name: string): string {
  if (!isScreaming(name)) return name.replace(/^_+|\$+$/g, '');
  return name.toLowerCase().replace(/_+([a-z0-9])/g, (_, letter: string) => letter.toUpperCase());
}

function isScreaming(name: string): boolean {
  return name.length > 1 && /^[A-Z][A-Z0-9_]*$/.test(name);
}

function adviceFor(name: string, isOfInstant: boolean): string {
  return isOfInstant
    ? `\`${name}\` is an instant: end it in At`
    : `\`${name}\` is a number without a unit: end it in its unit (thicknessMm, panelTemperatureMaxC; ` +
        'tests/architecture/units.ts), or, without dimension, in a word of tests/architecture/dimensionless.ts';
}

function isNamedOutside(node: ts.Node): node is Named {
  if (ts.isPropertySignature(node) || ts.isPropertyDeclaration(node)) return !isInsideBody(node);
  if (ts.isParameter(node)) return !isInsideBody(node.parent) && !isCallback(node.parent);
  return ts.isVariableDeclaration(node) && !isInsideBody(node) && !ts.isForStatement(node.parent.parent);
}

function isInsideBody(node: ts.Node): boolean {
  for (let inner = node, outer = node.parent; outer !== undefined; inner = outer, outer = outer.parent) {
    if (ts.isFunctionLike(outer) && 'body' in outer && outer.body === inner) return true;
  }
  return false;
}

function isCallback(node: ts.Node): boolean {
  return (
    (ts.isArrowFunction(node) || ts.isFunctionExpression(node)) && !ts.isVariableDeclaration(node.parent)
  );
}

function importsZod(file: ts.SourceFile): boolean {
  const imports = file.statements.filter(ts.isImportDeclaration);
  return imports.some(
    ({ moduleSpecifier }) => ts.isStringLiteral(moduleSpecifier) && moduleSpecifier.text === 'zod',
  );
}

function isSchemaKey(node: ts.Node): node is ts.PropertyAssignment & { readonly name: ts.Identifier } {
  return ts.isPropertyAssignment(node) && ts.isIdentifier(node.name);
}

/** What a zod schema parses into, or null for any other expression. */
function schemaOutputOf(schema: ts.Expression, checker: ts.TypeChecker): ts.Type | null {
  const internals = checker.getTypeAtLocation(schema).getProperty('_zod');
  if (internals === undefined) return null;
  const output = checker.getTypeOfSymbolAtLocation(internals, schema).getProperty('output');
  return output === undefined ? null : checker.getTypeOfSymbolAtLocation(output, schema);
}

/** Whether a type is a number, a branded one, or a list of them; null and undefined aside. */
export function isNumeric(type: ts.Type, checker: ts.TypeChecker): boolean {
  const parts = partsOf(type);
  return parts.length > 0 && parts.every((part) => isNumberOrList(part, checker));
}

function isNumberOrList(type: ts.Type, checker: ts.TypeChecker): boolean {
  if (type.isIntersection()) return type.types.some((part) => isNumberOrList(part, checker));
  if ((type.flags & ts.TypeFlags.NumberLike) !== 0) return true;
  if (numberLists.has(type.getSymbol()?.name ?? '')) return true;
  if (!checker.isArrayType(type) && !checker.isTupleType(type)) return false;
  const elements = checker.getTypeArguments(type as ts.TypeReference);
  return elements.length > 0 && elements.every((element) => isNumeric(element, checker));
}

function isInstant(type: ts.Type): boolean {
  return partsOf(type).some((part) => part.aliasSymbol?.name === instantBrand);
}

/** A yes or no that a database keeps as 0 or 1. */
function isFlag(name: string, type: ts.Type): boolean {
  const isBit = partsOf(type).every(
    (part) => part.isNumberLiteral() && (part.value === 0 || part.value === 1),
  );
  return isBit && /^(is|has)[A-Z]/.test(name);
}

function partsOf(type: ts.Type): ts.Type[] {
  const nothing = ts.TypeFlags.Null | ts.TypeFlags.Undefined | ts.TypeFlags.Void;
  return (type.isUnion() ? type.types : [type]).filter((part) => (part.flags & nothing) === 0);
}
