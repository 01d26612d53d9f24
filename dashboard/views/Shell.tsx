// The frame around every screen: header, notices, alerts, the screen by its path, dialogs and the toast.
import { $isShut, $mayManage, $mayWork } from '../state/access.ts';
import { $isWall } from '../state/floor.ts';
import { screenOf } from '../state/homePath.ts';
import { $dialog, $live, $path, $snapshotTrouble, $words, type OpenDialog } from '../state/sources.ts';
import { AlertStrip } from './AlertStrip.tsx';
import { BenchScreen } from './bench/BenchScreen.tsx';
import { DeviceSheet } from './DeviceSheet.tsx';
import { Header } from './Header.tsx';
import { HelpSheet } from './HelpSheet.tsx';
import { LazyScreen } from './LazyScreen.tsx';
import { MixSheet } from './mix/MixSheet.tsx';
import { MoreSheet } from './more/MoreSheet.tsx';
import { TimerSheet } from './bench/TimerSheet.tsx';
import { Notices } from './Notices.tsx';
import { Toaster } from './Toaster.tsx';
import './notices.css';
import './sheet.css';
import './shell.css';

/** The whole page; a wall has nothing but its screen. */
export function Shell() {
  if ($isShut.value || $path.value === PAIR_PATH) {
    return (
      <main id="main">
        <LazyScreen key="gate" load={loadGate} />
      </main>
    );
  }
  if ($isWall.value) {
    return <main id="main">{$live.value === null ? <Waiting /> : <Screen />}</main>;
  }
  return (
    <>
      <a class="skip" href="#main">
        {$words.value.header.skip}
      </a>
      <Header />
      <Notices />
      <AlertStrip />
      <main id="main" tabIndex={-1}>
        {$live.value === null ? <Waiting /> : <Screen />}
      </main>
      <Toaster />
      <DialogHost />
    </>
  );
}

const PAIR_PATH = '/pair';

function Screen() {
  switch (screenOf($path.value)) {
    case '/air':
      return <LazyScreen key="air" load={loadAir} />;
    case '/floor':
      return <LazyScreen key="floor" load={loadFloor} />;
    case '/records':
      return $mayWork.value ? (
        <LazyScreen key="records" load={loadRecords} />
      ) : (
        <LazyScreen key="floorOnly" load={loadFloorOnly} />
      );
    case '/setup':
      return $mayManage.value ? (
        <LazyScreen key="setup" load={loadSetup} />
      ) : (
        <LazyScreen key="signIn" load={loadSignIn} />
      );
    default:
      return $mayWork.value ? <BenchScreen /> : <LazyScreen key="floorOnly" load={loadFloorOnly} />;
  }
}

async function loadGate() {
  return (await import('./access/GateScreen.tsx')).GateScreen;
}

async function loadSignIn() {
  return (await import('./access/GateScreen.tsx')).SignInScreen;
}

async function loadFloorOnly() {
  return (await import('./access/GateScreen.tsx')).FloorOnlyScreen;
}

async function loadAir() {
  return (await import('./air/AirScreen.tsx')).AirScreen;
}

async function loadFloor() {
  return (await import('./floor/FloorScreen.tsx')).FloorScreen;
}

async function loadRecords() {
  return (await import('./records/RecordsScreen.tsx')).RecordsScreen;
}

async function loadSetup() {
  return (await import('./setup/SetupScreen.tsx')).SetupScreen;
}

function Waiting() {
  const { bench, connection } = $words.value;
  switch ($snapshotTrouble.value) {
    case 'network':
      return <Unread title={bench.unreachable} hint={bench.unreachableHint} />;
    case 'server':
      return <Unread title={connection.degraded} hint={connection.degradedHint} />;
    case null:
      return (
        <div class="blank" role="status">
          <div class="ghost" aria-hidden="true" />
          <p>{bench.loading}</p>
        </div>
      );
  }
}

function Unread({ title, hint }: { readonly title: string; readonly hint: string }) {
  return (
    <div class="blank" role="status">
      <h1 class="blank-title">{title}</h1>
      <p>{hint}</p>
    </div>
  );
}

/** What only those may open who may act. */
const ACTING: ReadonlySet<OpenDialog['kind']> = new Set(['mix', 'more', 'timer']);

function DialogHost() {
  const dialog = $dialog.value;
  if (dialog === null || $live.value === null) return null;
  if (!$mayWork.value && ACTING.has(dialog.kind)) return null;
  switch (dialog.kind) {
    case 'mix':
      return <MixSheet key={dialog.variant} preset={dialog.preset} variant={dialog.variant} />;
    case 'more':
      return <MoreSheet batchId={dialog.batchId} />;
    case 'timer':
      return <TimerSheet />;
    case 'device':
      return <DeviceSheet />;
    case 'help':
      return <HelpSheet />;
  }
}
