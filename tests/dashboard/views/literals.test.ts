// Every text on a screen comes from the catalogue: no words between tags, in spoken names, titles or placeholders.
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import {
  expectNone,
  parseFiles,
  parseText,
  typescriptPaths,
  type Violation,
  violationAt,
  visit,
} from '../../architecture/sources.ts';

/** Attributes whose text people see or hear. */
const SPOKEN =
  /^(aria-(label|description|placeholder|roledescription|valuetext)|title|placeholder|alt|label|name|hint|text)$/;
/** Of those, the ones that native elements use for something else. */
const UNSPOKEN_ON = /^(input:name|SmallSign:name|Tick:name)$/;
/** The program's own name. */
const OWN_NAMES = new Set(['Sandby']);
const SAYS = 'a text outside the catalogue: give it a key in dashboard/format';

function findLiterals(files: readonly ts.SourceFile[]): Violation[] {
  const found: Violation[] = [];
  for (const file of files) {
    visit(file, (node) => {
      if (isShownText(node)) found.push(violationAt(node, SAYS));
    });
  }
  return found;
}

function isShownText(node: ts.Node): boolean {
  if (ts.isJsxText(node)) return isWord(node.text);
  const isText =
    ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node) || ts.isTemplateExpression(node);
  if (!isText || !isWord(wordsOf(node))) return false;
  const place = shownPlaceOf(node);
  return place === 'child' || (place !== null && isSpoken(place));
}

/** Where a literal ends up: as a child of an element, or in an attribute; null elsewhere. */
function shownPlaceOf(literal: ts.Node): 'child' | ts.JsxAttribute | null {
  let node: ts.Node = literal;
  while (
    ts.isConditionalExpression(node.parent) ||
    ts.isParenthesizedExpression(node.parent) ||
    isChoice(node.parent)
  ) {
    if (ts.isConditionalExpression(node.parent) && node.parent.condition === node) return null;
    node = node.parent;
  }
  if (ts.isJsxAttribute(node.parent)) return node.parent;
  if (!ts.isJsxExpression(node.parent)) return null;
  const { parent } = node.parent;
  return ts.isJsxAttribute(parent) ? parent : 'child';
}

/** `a ?? 'text'` and the like. */
function isChoice(node: ts.Node): boolean {
  return (
    ts.isBinaryExpression(node) &&
    [
      ts.SyntaxKind.QuestionQuestionToken,
      ts.SyntaxKind.BarBarToken,
      ts.SyntaxKind.AmpersandAmpersandToken,
      ts.SyntaxKind.PlusToken,
    ].includes(node.operatorToken.kind)
  );
}

function isSpoken(attribute: ts.JsxAttribute): boolean {
  const name = attribute.name.getText();
  const element = attribute.parent.parent.tagName.getText();
  return SPOKEN.test(name) && !UNSPOKEN_ON.test(`${element}:${name}`);
}

function wordsOf(node: ts.Node): string {
  if (ts.isTemplateExpression(node)) {
    return [node.head.text, ...node.templateSpans.map(({ literal }) => literal.text)].join(' ');
  }
  return ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node) ? node.text : '';
}

function isWord(text: string): boolean {
  return /\p{L}/u.test(text) && !OWN_NAMES.has(text.trim());
}

describe('the pages', () => {
  it('show no text that is not in the catalogue', () => {
    const paths = typescriptPaths(['dashboard']).filter((path) => path.endsWith('.tsx'));
    expect(paths.length).toBeGreaterThan(30);
    expectNone(findLiterals(parseFiles(paths)));
  });
});

describe('the search for literals', () => {
  it.each([
    [1, '<p>Test now</p>'],
    [1, '<p>{isLate ? "late" : words.early}</p>'],
    [1, '<p>{`${count} min`}</p>'],
    [1, '<button aria-label="Close" />'],
    [1, '<input placeholder={"Panel"} />'],
    [1, '<p>{text ?? "nothing"}</p>'],
    [1, '<TextField label={isLong ? "Length" : words.width} />'],
    [0, '<p class="blank">{words.bench.empty}</p>'],
    [0, '<p>–</p>'],
    [0, '<p>{kind === "late" ? words.late : null}</p>'],
    [0, '<SmallSign name="bell" />'],
    [0, '<a aria-label="Sandby" href="/bench" />'],
    [0, '<p>{words.parts.join(", ")}</p>'],
  ])('sees %i text in %s', (count, element) => {
    expect(findLiterals([parseText('dashboard/views/A.tsx', `const a = ${element};`)])).toHaveLength(count);
  });
});
