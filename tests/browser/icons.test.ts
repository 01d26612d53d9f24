// The icons of the home screen are drawn from two files; with SANDBY_PICTURES=1 they are drawn anew, else held against them.
import { readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { launchChromium } from '../support/chromium.ts';

const FOLDER = resolve(import.meta.dirname, '../../dashboard/public');
/** How far a pixel may differ on average, of 255: edges are smoothed a little differently by each browser. */
const DIFFERENCE_MAX_SCORE = 3;
const ICONS = [
  { file: 'icon-192.png', drawing: 'icon.svg', sizePx: 192 },
  { file: 'icon-512.png', drawing: 'icon.svg', sizePx: 512 },
  { file: 'icon-maskable-192.png', drawing: 'icon-maskable.svg', sizePx: 192 },
  { file: 'icon-maskable-512.png', drawing: 'icon-maskable.svg', sizePx: 512 },
  // A phone that cuts its own corners wants a square without holes.
  { file: 'apple-touch-icon.png', drawing: 'icon-maskable.svg', sizePx: 180 },
] as const;

it('are as drawn, in the size that the manifest says, in colours of the tokens', async () => {
  const browser = await launchChromium();
  try {
    const page = await browser.newPage();
    for (const { file, drawing, sizePx } of ICONS) {
      const path = resolve(FOLDER, file);
      if (process.env['SANDBY_PICTURES'] === '1') await draw(page, { drawing, path, sizePx });
      const { widthPx, heightPx, score } = await compare(page, { drawing, path });
      expect({ file, widthPx, heightPx, isAlike: score < DIFFERENCE_MAX_SCORE }).toEqual({
        file,
        widthPx: sizePx,
        heightPx: sizePx,
        isAlike: true,
      });
    }
  } finally {
    await browser.close();
  }
  const tokens = readFileSync(resolve(FOLDER, '../tokens.css'), 'utf8');
  const fileNames = ['icon.svg', 'icon-maskable.svg', 'manifest.webmanifest'];
  const texts = [...fileNames.map((name) => resolve(FOLDER, name)), resolve(FOLDER, '../index.html')].map(
    (path) => readFileSync(path, 'utf8'),
  );
  const colours = texts.flatMap((text) => text.match(/#[0-9a-f]{6}\b/g) ?? []);
  expect(colours.length).toBeGreaterThan(8);
  for (const colour of colours) expect(tokens).toContain(colour);
});

interface Drawing {
  readonly drawing: string;
  readonly path: string;
}

async function draw(page: Page, { drawing, path, sizePx }: Drawing & { sizePx: number }): Promise<void> {
  await page.setViewportSize({ width: sizePx, height: sizePx });
  await page.setContent(`<body style="margin:0"><img src="${sourceOf(drawing)}" width="${sizePx}"></body>`);
  writeFileSync(path, await page.screenshot({ omitBackground: true }));
}

/** The size of a file, and how far it is from its drawing on average over all pixels and colours. */
function compare(
  page: Page,
  { drawing, path }: Drawing,
): Promise<{ widthPx: number; heightPx: number; score: number }> {
  const sources = [`data:image/png;base64,${readFileSync(path).toString('base64')}`, sourceOf(drawing)];
  return page.evaluate(async ([file = '', drawn = '']) => {
    const loaded = async (source: string): Promise<HTMLImageElement> => {
      const image = new Image();
      image.src = source;
      await image.decode();
      return image;
    };
    const image = await loaded(file);
    const { naturalWidth: widthPx, naturalHeight: heightPx } = image;
    const pixelsOf = (picture: HTMLImageElement): Uint8ClampedArray => {
      const canvas = Object.assign(document.createElement('canvas'), { width: widthPx, height: heightPx });
      const context = canvas.getContext('2d') as CanvasRenderingContext2D;
      context.drawImage(picture, 0, 0, widthPx, heightPx);
      return context.getImageData(0, 0, widthPx, heightPx).data;
    };
    const [here, there] = [pixelsOf(image), pixelsOf(await loaded(drawn))];
    const sum = here.reduce((total, value, index) => total + Math.abs(value - (there[index] ?? 0)), 0);
    return { widthPx, heightPx, score: sum / here.length };
  }, sources);
}

function sourceOf(drawing: string): string {
  return `data:image/svg+xml;base64,${readFileSync(resolve(FOLDER, drawing)).toString('base64')}`;
}
