// The catalogue is complete in every language, its texts differ, none is left unused, and each function makes a text.
import { beforeAll, describe, expect, it } from 'vitest';
import { wordsEn } from '../../../dashboard/format/wholeWords.en.ts';
import { wordsEs } from '../../../dashboard/format/words.es.ts';
import { type Project, sampleProject, shippedProject } from '../../architecture/sources.ts';
import { findUsedPaths, type Leaf, leavesOf, sampleArguments, type SampleKind } from '../catalogueUse.ts';

/** Texts that are the same in both languages, and rightly so. */
const SAME = new Set([
  'act.no',
  'floor.duration',
  'help.command',
  'menu.lengthInches',
  'menu.lengthMetric',
  'unit.min',
]);

const english = leavesOf(wordsEn);
const spanish = leavesOf(wordsEs);
let project: Project;
let samples: Readonly<Record<SampleKind, ReadonlyMap<string, unknown[]>>>;

beforeAll(() => {
  project = shippedProject();
  samples = { some: sampleArguments(project, 'some'), none: sampleArguments(project, 'none') };
}, 60_000);

/** Every text that a leaf can show, functions called with their samples. */
function textsOf(path: string, leaf: Leaf | undefined): string[] {
  if (typeof leaf === 'string') return [leaf];
  if (typeof leaf !== 'function') return [...(leaf ?? [])];
  return (['some', 'none'] as const).map((kind) =>
    String(leaf(...(samples[kind].get(path) ?? ['[object of no sample]']))),
  );
}

/** What was handed in, and numbers, as they stand in a text. */
function marksIn(text: string): string[] {
  return (text.match(/⟨\w+⟩|\d+/g) ?? []).toSorted();
}

describe('the Spanish catalogue', () => {
  it('has the keys of the English one, of the same kinds, and no others', () => {
    expect([...spanish.keys()].toSorted()).toEqual([...english.keys()].toSorted());
    const kinds = (leaves: ReadonlyMap<string, Leaf>) =>
      [...leaves]
        .map(([path, leaf]) => `${path} ${Array.isArray(leaf) ? leaf.length : typeof leaf}`)
        .toSorted();
    expect(kinds(spanish)).toEqual(kinds(english));
  });

  it('leaves no text in English', () => {
    const same = [...english].flatMap(([path, leaf]) => {
      const others = textsOf(path, spanish.get(path));
      const isWord = (text: string): boolean => /\p{L}/u.test(text.replaceAll(/⟨\w+⟩/g, ''));
      return textsOf(path, leaf).some((text, index) => isWord(text) && text === others[index]) ? [path] : [];
    });
    expect(same.filter((path) => !SAME.has(path))).toEqual([]);
    expect([...SAME].filter((path) => !same.includes(path))).toEqual([]);
  });

  it('tells in each sentence what the English one tells', () => {
    const lost = [...english].flatMap(([path, leaf]) => {
      const others = textsOf(path, spanish.get(path));
      return textsOf(path, leaf).flatMap((text, index) =>
        String(marksIn(text)) === String(marksIn(others[index] ?? ''))
          ? []
          : [`${path}: ${text} | ${others[index]}`],
      );
    });
    expect(lost).toEqual([]);
  });
});

describe.each([
  ['English', english],
  ['Spanish', spanish],
])('each text in %s', (_, leaves) => {
  it('is a text, whatever it is given', () => {
    const odd = [...leaves].flatMap(([path, leaf]) =>
      textsOf(path, leaf)
        .filter((text) => text.trim() === '' || /undefined|null|NaN|\[object/.test(text))
        .map((text) => `${path}: ${text}`),
    );
    expect(odd).toEqual([]);
  });

  it('is set without a double blank or a blank at an end that nothing follows', () => {
    const odd = [...leaves].flatMap(([path, leaf]) =>
      textsOf(path, leaf)
        .filter((text) => /  |\s[.;:!?]/.test(text))
        .map((text) => `${path}: ${text}`),
    );
    expect(odd).toEqual([]);
  });
});

describe('the pages', () => {
  it('use every text of the catalogue', () => {
    const used = findUsedPaths(project);
    expect([...english.keys()].filter((path) => !used.has(path))).toEqual([]);
  });
});

describe('the search for uses', () => {
  const usedIn = (code: string): string[] => {
    const catalogue = `export const wordsEn = {
      stage: { wet: 'Wet', kicked: 'Kicked', test: 'Test' },
      mix: { start: 'Start', open: 'Mix' },
      window: { build: 'build', edge: 'edge' },
    };
    export type Words = typeof wordsEn;`;
    const head = "import type { Words } from '../format/words.en.ts';\ndeclare const words: Words;\n";
    return [
      ...findUsedPaths(
        sampleProject({ 'dashboard/format/words.en.ts': catalogue, 'dashboard/views/a.ts': head + code }),
      ),
    ].filter((path) => path.includes('.'));
  };

  it.each([
    ['const a = words.mix.start;', ['mix.start']],
    ['const { mix: { open } } = words;', ['mix.open']],
    ["declare const at: 'wet' | 'test'; const a = words.stage[at];", ['stage.wet', 'stage.test']],
    ['declare function draw(of: { edge: string }): void; draw(words.window);', ['window.edge']],
    ['declare function pass(all: Words): void; pass(words);', []],
    ['const start = 1; const open = start;', []],
  ])('sees in `%s` only what is read', (code, paths) => {
    expect(usedIn(code)).toEqual(paths);
  });
});
