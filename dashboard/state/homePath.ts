// Where the bare address leads: the page this device used last, Bench on a phone, Floor elsewhere.

const SCREENS = ['/bench', '/floor', '/air', '/records', '/setup'];

/** The screen a path belongs to, as the device remembers it; null for anything else. */
export function screenOf(path: string): string | null {
  return SCREENS.find((screen) => path === screen || path.startsWith(`${screen}/`)) ?? null;
}

/** The path that the bare address stands for. */
export function homePath({
  lastScreen,
  isPhone,
}: {
  readonly lastScreen: string | null;
  readonly isPhone: boolean;
}): string {
  return lastScreen ?? (isPhone ? '/bench' : '/floor');
}
