// Runs the built program as a shop does: a process of its own, free ports, a data folder that goes away.
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '../..');

export interface RunningServer {
  readonly address: string;
  readonly mqttPort: number;
  readonly dataFolder: string;
  /** From spawn to the printed address [ms]. */
  readonly startedInMs: number;
  readonly child: ChildProcess;
  /** Ends it and gives the exit code; null when a signal did. */
  stop(signal?: NodeJS.Signals): Promise<number | null>;
}

export interface Ended {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

const tempFolders: string[] = [];
process.once('exit', () => {
  for (const folder of tempFolders) rmSync(folder, { recursive: true, force: true });
});

/** Makes a folder that is removed when the process ends. */
export function makeTempFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'sandby-test-'));
  tempFolders.push(folder);
  return folder;
}

/** Starts the built server and waits until it has printed its address. */
export async function runServer(
  options: {
    config?: string;
    dataFolder?: string;
    environment?: Record<string, string>;
    /** Where the built program lies; this one when left out. */
    programFolder?: string;
  } = {},
): Promise<RunningServer> {
  const dataFolder = options.dataFolder ?? makeTempFolder();
  const begunMs = performance.now();
  const environment = {
    SANDBY_HTTP_PORT: '0',
    SANDBY_MQTT_PORT: '0',
    SANDBY_DATA: dataFolder,
    ...options.environment,
  };
  const flags = ['--config', options.config ?? 'config/shop.example.json'];
  const child = spawnServer(flags, environment, options.programFolder);
  const output = collect(child);
  const printed = await waitForAddress(child, output);
  return {
    ...printed,
    dataFolder,
    startedInMs: performance.now() - begunMs,
    child,
    stop: (signal = 'SIGTERM') => endChild(child, signal),
  };
}

/** Runs the built server until it ends by itself; for starts that must fail. */
export async function runUntilEnd(
  flags: readonly string[],
  environment: Record<string, string>,
): Promise<Ended> {
  const child = spawnServer(flags, environment);
  const output = collect(child);
  const code = await new Promise<number | null>((done) => child.once('exit', done));
  return { code, stdout: output.stdout, stderr: output.stderr };
}

function spawnServer(
  flags: readonly string[],
  environment: Record<string, string>,
  programFolder = ROOT,
): ChildProcess {
  return spawn(process.execPath, ['dist/server/main.js', ...flags], {
    cwd: programFolder,
    env: { ...process.env, ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
}

function collect(child: ChildProcess): { stdout: string; stderr: string } {
  const output = { stdout: '', stderr: '' };
  child.stdout?.on('data', (chunk: Buffer) => (output.stdout += chunk.toString()));
  child.stderr?.on('data', (chunk: Buffer) => (output.stderr += chunk.toString()));
  return output;
}

async function waitForAddress(
  child: ChildProcess,
  output: { stdout: string; stderr: string },
): Promise<{ address: string; mqttPort: number }> {
  for (let tick = 0; tick < 1500; tick += 1) {
    const address = /open (https?:\S+)/.exec(output.stdout)?.[1];
    const mqttPort = /mqtt port (\d+)/.exec(output.stdout)?.[1];
    if (address !== undefined && mqttPort !== undefined) return { address, mqttPort: Number(mqttPort) };
    if (child.exitCode !== null) throw new Error(`the server ended at once: ${output.stderr}`);
    await new Promise((done) => setTimeout(done, 10));
  }
  throw new Error(`no address was printed in 15 s: ${output.stdout} ${output.stderr}`);
}

async function endChild(child: ChildProcess, signal: NodeJS.Signals): Promise<number | null> {
  if (child.exitCode !== null || child.signalCode !== null) return child.exitCode;
  const ended = new Promise<number | null>((done) => child.once('exit', done));
  child.kill(signal);
  return ended;
}
