/** Lines on standard output. */
export function print(...lines: readonly string[]): void {
  for (const line of lines) process.stdout.write(line + '\n');
}
