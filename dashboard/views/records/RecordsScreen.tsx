// Records: the list of what was kept, or all of one repair order, by the path.
import { orderOfPath } from '../../state/records.ts';
import { $path } from '../../state/sources.ts';
import { OrderPage } from './OrderPage.tsx';
import { RecordsList } from './RecordsList.tsx';
import './records.css';
import './recordBatch.css';
import './recordsPrint.css';

/** The Records screen. */
export function RecordsScreen() {
  const order = orderOfPath($path.value);
  return order === null ? <RecordsList /> : <OrderPage key={order} order={order} />;
}
