// Whether a page keeps up with the screen: the gaps between its frames, and the frames that Chromium itself says it dropped.
import { availableParallelism, loadavg } from 'node:os';
import type { Page } from 'playwright-core';

export interface Frames {
  readonly frameCount: number;
  /** Frames that a screen of 60 a second had to do without, by the gaps between animation frames. */
  readonly droppedCount: number;
  /** Frames in which nothing new reached the screen, by Chromium's own trace. */
  readonly frozenCount: number;
  /** Frames that moved on, a scroll for one, while the page's own drawing came a frame later. */
  readonly lateCount: number;
  readonly middleMs: number;
  readonly longestMs: number;
}

interface TraceEvent {
  readonly name: string;
  readonly args?: { readonly hasPartialUpdate?: boolean };
}

const FRAME_MS = 1000 / 60;

/** Watches the frames of a page while something is done to it. */
export async function watchFrames(page: Page, act: () => Promise<void>): Promise<Frames> {
  const browser = page.context().browser();
  if (browser === null) throw new Error('the page has no browser');
  await browser.startTracing(page, {
    categories: ['disabled-by-default-devtools.timeline.frame', 'devtools.timeline.frame'],
  });
  await page.evaluate(() => {
    const gapsMs: number[] = [];
    let beforeMs: number | null = null;
    const state = { isOn: true, gapsMs };
    Object.assign(globalThis, { watchedFrames: state });
    const step = (atMs: number): void => {
      if (beforeMs !== null) gapsMs.push(atMs - beforeMs);
      beforeMs = atMs;
      if (state.isOn) requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  });
  await act();
  const gapsMs = await page.evaluate(() => {
    const { watchedFrames } = globalThis as unknown as { watchedFrames: { isOn: boolean; gapsMs: number[] } };
    watchedFrames.isOn = false;
    return watchedFrames.gapsMs;
  });
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as {
    traceEvents: TraceEvent[];
  };
  const dropped = traceEvents.filter(({ name }) => name === 'DroppedFrame');
  const sorted = gapsMs.toSorted((a, b) => a - b);
  return {
    frameCount: gapsMs.length,
    droppedCount: gapsMs.reduce((sum, gapMs) => sum + Math.max(0, Math.round(gapMs / FRAME_MS) - 1), 0),
    frozenCount: dropped.filter(({ args }) => args?.hasPartialUpdate !== true).length,
    lateCount: dropped.filter(({ args }) => args?.hasPartialUpdate === true).length,
    middleMs: sorted[Math.floor(sorted.length / 2)] ?? 0,
    longestMs: sorted.at(-1) ?? 0,
  };
}

/** The frames in words, for the line that a test prints. */
export function formatFrames({
  frameCount,
  droppedCount,
  frozenCount,
  lateCount,
  middleMs,
  longestMs,
}: Frames): string {
  return (
    `${droppedCount} of ${frameCount + droppedCount} animation frames missed (on the screen ${frozenCount} frozen, ${lateCount} drawn late), ` +
    `middle ${middleMs.toFixed(1)} ms, longest ${longestMs.toFixed(0)} ms`
  );
}

/** How busy the machine was meanwhile: beside it every time is read. */
export function formatLoad(): string {
  return `load ${(loadavg()[0] ?? 0).toFixed(1)} on ${availableParallelism()} cores`;
}
