// Real time for the simulator: waiting, and how much has passed.

/** Waits [ms of real time]. */
export function pause(forMs: number): Promise<void> {
  return new Promise((resolve) => {
    setTimeout(resolve, forMs);
  });
}

/** Real time since the process began [ms]; it never jumps. */
export function elapsedMs(): number {
  return performance.now();
}
