const MOST_FRAMES = 12;

/** What may be somebody's in a message: what is quoted, paths, long numbers and ids. */
const PRIVATE = /'[^']*'|"[^"]*"|(?:[A-Za-z]:)?[/\\][^\s:,]+|[0-9a-f]{6,}[0-9a-f-]*/g;

/** A fault as it is written down: where it happened and of what kind, without names, ids or paths. */
export function faultOf(error: unknown): Record<string, unknown> {
  if (!(error instanceof Error)) return { kind: typeof error };
  const { code } = error as { code?: unknown };
  const frames = (error.stack ?? '').split('\n').filter((line) => /^\s+at /.test(line));
  return {
    kind: error.name,
    ...(typeof code === 'string' ? { code } : {}),
    message: error.message.replace(PRIVATE, '...'),
    at: frames
      .slice(0, MOST_FRAMES)
      // The place of the installation may name a person.
      .map((line) =>
        line.trim().replace(/(?:file:\/\/)?[/\\].*[/\\](server|src|node_modules)[/\\]/, '$1/'),
      ),
    ...(error.cause === undefined ? {} : { cause: faultOf(error.cause) }),
  };
}
