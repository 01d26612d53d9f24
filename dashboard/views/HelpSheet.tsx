// How to leave the simulated shop and run one's own.
import { $words } from '../state/sources.ts';
import { Sheet } from './Sheet.tsx';

/** The help dialog. */
export function HelpSheet() {
  const { help } = $words.value;
  return (
    <Sheet title={help.title}>
      <p>{help.intro}</p>
      <p>{help.step}</p>
      <pre class="command">
        <code>{help.command}</code>
      </pre>
      <p>{help.after}</p>
    </Sheet>
  );
}
