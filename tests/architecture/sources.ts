// The tree as the rules see it: files, parsed sources, the type checker, and how a violation is told.
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import ts from 'typescript';
import { expect } from 'vitest';

export const rootFolder = resolve(import.meta.dirname, '../..');
const shippedFolders = ['server', 'dashboard', 'sensors-sim'] as const;
export const allFolders = [...shippedFolders, 'tests', 'config'] as const;

export interface Violation {
  /** `path:line`, or a path alone where the whole file is meant. */
  readonly place: string;
  /** What is wrong and what to do instead. */
  readonly says: string;
}

export interface Project {
  readonly files: readonly ts.SourceFile[];
  readonly checker: ts.TypeChecker;
}

/** Fails with one line a violation, and passes when there is none. */
export function expectNone(violations: readonly Violation[]): void {
  if (violations.length === 0) return;
  const lines = violations.map(({ place, says }) => `  ${place}  ${says}`);
  expect.fail(`${violations.length} found\n${lines.join('\n')}`);
}

/** A violation at a node of a parsed file. */
export function violationAt(node: ts.Node, says: string): Violation {
  const file = node.getSourceFile();
  const { line } = file.getLineAndCharacterOfPosition(node.getStart(file));
  return { place: `${pathOf(file)}:${line + 1}`, says };
}

/** A file's path below the root, with slashes. */
export function pathOf(file: ts.SourceFile): string {
  return relative(rootFolder, file.fileName).replaceAll('\\', '/');
}

/** Visits a node and everything below it. */
export function visit(node: ts.Node, see: (node: ts.Node) => void): void {
  see(node);
  ts.forEachChild(node, (child) => visit(child, see));
}

/** The files as git knows them; where there is no git, everything that .gitignore does not name. */
export function trackedFiles(options: { readonly withUntracked: boolean }): string[] {
  const more = options.withUntracked ? ['--cached', '--others', '--exclude-standard'] : [];
  try {
    const listed = execFileSync('git', ['-c', 'safe.directory=*', 'ls-files', '-z', ...more], {
      cwd: rootFolder,
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    return listed.split('\0').filter((path) => path !== '' && isFile(path));
  } catch {
    return filesBelow('.', ignoredByGit());
  }
}

/** The TypeScript files below some of our folders, as paths below the root. */
export function typescriptPaths(folders: readonly string[]): string[] {
  return folders
    .flatMap((folder) => filesBelow(folder, () => false))
    .filter((path) => /\.tsx?$/.test(path) && !path.endsWith('.d.ts'));
}

/** The text of a file below the root. */
export function readText(path: string): string {
  return readFileSync(join(rootFolder, path), 'utf8');
}

/** Parses files without types, which is quick. */
export function parseFiles(paths: readonly string[]): ts.SourceFile[] {
  return paths.map((path) => parseText(path, readText(path)));
}

/** Parses a text as if it stood at a path below the root. */
export function parseText(path: string, text: string): ts.SourceFile {
  return ts.createSourceFile(join(rootFolder, path), text, ts.ScriptTarget.ES2023, true);
}

let shipped: Project | undefined;

/** Everything a shop runs, with types; loaded once a process. */
export function shippedProject(): Project {
  shipped ??= projectOf(typescriptPaths(shippedFolders), new Map());
  return shipped;
}

/** A few made-up files with types, to show that a rule sees what it should. */
export function sampleProject(texts: Readonly<Record<string, string>>): Project {
  return projectOf(Object.keys(texts), new Map(Object.entries(texts)));
}

const parsedLibraries = new Map<string, ts.SourceFile | undefined>();

function projectOf(paths: readonly string[], texts: ReadonlyMap<string, string>): Project {
  const options = compilerOptions();
  const host = ts.createCompilerHost(options, true);
  const textAt = (fileName: string): string | undefined => texts.get(relative(rootFolder, fileName));
  const read = host.getSourceFile.bind(host);
  const cached = (fileName: string, target: ts.ScriptTarget | ts.CreateSourceFileOptions) => {
    if (!parsedLibraries.has(fileName)) parsedLibraries.set(fileName, read(fileName, target));
    return parsedLibraries.get(fileName);
  };
  host.getSourceFile = (fileName, target) => {
    const text = textAt(fileName);
    if (text !== undefined) return ts.createSourceFile(fileName, text, target, true);
    return fileName.includes('/node_modules/') ? cached(fileName, target) : read(fileName, target);
  };
  const exists = host.fileExists.bind(host);
  host.fileExists = (fileName) => textAt(fileName) !== undefined || exists(fileName);
  const program = ts.createProgram({
    rootNames: paths.map((path) => join(rootFolder, path)),
    options,
    host,
  });
  const wanted = new Set(paths);
  return {
    files: program.getSourceFiles().filter((file) => wanted.has(pathOf(file))),
    checker: program.getTypeChecker(),
  };
}

function compilerOptions(): ts.CompilerOptions {
  const read = ts.readConfigFile(join(rootFolder, 'tsconfig.json'), (path) => ts.sys.readFile(path));
  return ts.parseJsonConfigFileContent(read.config, ts.sys, rootFolder).options;
}

function filesBelow(folder: string, isIgnored: (name: string) => boolean): string[] {
  return readdirSync(join(rootFolder, folder), { withFileTypes: true, recursive: false }).flatMap((entry) => {
    const path = folder === '.' ? entry.name : `${folder}/${entry.name}`;
    if (isIgnored(entry.name)) return [];
    return entry.isDirectory() ? filesBelow(path, isIgnored) : [path];
  });
}

function ignoredByGit(): (name: string) => boolean {
  const patterns = ['.git', ...readText('.gitignore').split('\n')]
    .map((line) => line.trim().replace(/^\/|\/$/g, ''))
    .filter((line) => line !== '' && !line.startsWith('#'))
    .map((line) => new RegExp(`^${line.replaceAll('.', '\\.').replaceAll('*', '.*')}$`));
  return (name) => patterns.some((pattern) => pattern.test(name));
}

function isFile(path: string): boolean {
  return ts.sys.fileExists(join(rootFolder, path));
}
