// A real Chromium for the browser tests: the one named, the one installed, or the one that came by npm.
import { existsSync } from 'node:fs';
import { mkdtemp, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type LaunchOptions } from 'playwright-core';

const packedMajor = '147';
const installedPath = '/usr/bin/chromium';
const fontConfigName = 'own-fonts.conf';
const ownArgs = [
  '--disable-gpu',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
];

/** Starts Chromium; the caller closes it. Fails in one clear line when there is none to start. */
export async function launchChromium(): Promise<Browser> {
  const named = process.env.CHROMIUM_PATH;
  if (named !== undefined && named !== '') {
    if (!existsSync(named)) throw new Error(`CHROMIUM_PATH names no file: ${named}`);
    return launch({ executablePath: named });
  }
  if (existsSync(installedPath)) return launch({ executablePath: installedPath });
  return launchPacked().catch((cause: unknown) => {
    throw new Error(
      `No Chromium: CHROMIUM_PATH is not set, ${installedPath} is missing, and the one from npm did not start. ` +
        `Install Chromium or set CHROMIUM_PATH. ${String(cause)}`,
      { cause },
    );
  });
}

function launch(options: LaunchOptions): Promise<Browser> {
  // Root has no sandbox, and the only pages opened are ours.
  return chromium.launch({ args: ownArgs, chromiumSandbox: false, ...options });
}

async function launchPacked(): Promise<Browser> {
  const folder = join(tmpdir(), `sandby-chromium-${packedMajor}`);
  if (!existsSync(join(folder, 'chromium'))) await unpackInto(folder);
  const browser = await launch({
    executablePath: join(folder, 'chromium'),
    // Its own shared libraries and fonts, for this child only: other children keep the machine's.
    env: {
      ...process.env,
      LD_LIBRARY_PATH: join(folder, 'al2023/lib'),
      FONTCONFIG_FILE: join(folder, fontConfigName),
    },
  });
  const version = browser.version();
  if (version.startsWith(`${packedMajor}.`)) return browser;
  await browser.close();
  throw new Error(`Expected Chromium ${packedMajor}, got ${version}: delete ${folder} and run again.`);
}

/**
 * Unpacks beside the goal and renames at the end, so that two test processes never see half a browser.
 * The package takes the temp folder for its goal, and adds the shared libraries a bare machine lacks
 * only where it believes to run on a function host; both are told it by environment, before its import.
 */
async function unpackInto(folder: string): Promise<void> {
  const unpacked = await mkdtemp(`${folder}-`);
  const before = { ...process.env };
  Object.assign(process.env, { TMPDIR: unpacked, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs22.x' });
  try {
    const { default: packed } = await import('@sparticuz/chromium');
    await packed.executablePath();
    await writeFile(join(unpacked, fontConfigName), fontConfig(folder));
  } finally {
    for (const name of Object.keys(process.env)) if (!(name in before)) delete process.env[name];
    Object.assign(process.env, before);
  }
  await rename(unpacked, folder).catch(async (cause: unknown) => {
    await rm(unpacked, { recursive: true, force: true });
    if (!existsSync(join(folder, 'chromium'))) throw cause;
  });
}

/** The packed configuration names fixed folders of a function host; without this one no text is drawn. */
function fontConfig(folder: string): string {
  const folders = [join(folder, 'fonts'), '/usr/share/fonts'].map((path) => `<dir>${path}</dir>`);
  return `<?xml version="1.0"?><fontconfig>${folders.join('')}<cachedir>${folder}/font-cache</cachedir></fontconfig>\n`;
}
