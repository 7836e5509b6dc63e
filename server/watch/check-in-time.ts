/** Who asks whether a process is ready is answered within so long, ms. */
const IN_TIME_MS = 2_000;

/** Rejects where `check` does, or does not come to an end. */
export function checkInTime(check: () => Promise<void>): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(
      () => reject(new Error('The database does not answer in time.')),
      IN_TIME_MS,
    );
  });
  return Promise.race([check(), late]).finally(() => clearTimeout(timer));
}
