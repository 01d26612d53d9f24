// The cautions, in own words (design PRODUCT §6): shown before every start.
import { $words } from '../../state/sources.ts';

/** The cautions and who decides. */
export function Cautions() {
  const { caution } = $words.value;
  const lines = [caution.vapour, caution.peroxide, caution.dosing, caution.dust, caution.leftover];
  return (
    <section class="cautions">
      <h3>{caution.title}</h3>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <p>{caution.decide}</p>
    </section>
  );
}
