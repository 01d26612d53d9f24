// A screen that is loaded when it is first opened.
import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { $words } from '../state/sources.ts';

/** Shows a screen from a chunk of its own, and says so while it loads or when it cannot. */
export function LazyScreen({ load }: { readonly load: () => Promise<ComponentType> }) {
  const [loaded, setLoaded] = useState<{ readonly Screen: ComponentType } | 'failed' | null>(null);
  useEffect(() => {
    load().then(
      (Screen) => setLoaded({ Screen }),
      () => setLoaded('failed'),
    );
  }, [load]);
  if (loaded === null) return <p class="blank">{$words.value.bench.loading}</p>;
  if (loaded === 'failed') return <p class="blank">{$words.value.bench.unreachable}</p>;
  return <loaded.Screen />;
}
