import { z } from 'zod';

/*
 * Locks between the tabs of a browser. Over plain HTTP browsers withhold the Web Locks API; tabs then
 * ask each other over a channel, which they may use everywhere.
 */

const messageSchema = z.union([
  z.object({ ask: z.literal(true) }),
  z.object({ held: z.array(z.string()) }),
]);

/** Another tab answers within milliseconds, unless the browser has put it to sleep. */
const ANSWER_MS = 150;

const channel = navigator.locks ? null : new BroadcastChannel('endwise.held');
const ours = new Set<string>();

channel?.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
  const said = messageSchema.safeParse(data);
  if (said.success && 'ask' in said.data && ours.size > 0) channel.postMessage({ held: [...ours] });
});

/** Marks a name as held by this tab until it is let go or closed; returns how to let go. */
export function hold(name: string): () => void {
  let letGo = () => {};
  if (channel) {
    ours.add(name);
    letGo = () => ours.delete(name);
  } else {
    void navigator.locks.request(
      name,
      { ifAvailable: true },
      () => new Promise<void>((resolve) => (letGo = resolve)),
    );
  }
  return () => letGo();
}

/** Names that tabs hold, this one or others. */
export async function heldNames(): Promise<ReadonlySet<string>> {
  if (!channel) {
    return new Set((await navigator.locks.query()).held?.flatMap(({ name }) => name ?? []));
  }
  const held = new Set(ours);
  const listen = ({ data }: MessageEvent<unknown>) => {
    const said = messageSchema.safeParse(data);
    if (said.success && 'held' in said.data) said.data.held.forEach((name) => held.add(name));
  };
  channel.addEventListener('message', listen);
  channel.postMessage({ ask: true });
  await new Promise((resolve) => setTimeout(resolve, ANSWER_MS));
  channel.removeEventListener('message', listen);
  return held;
}

const turns = new Map<string, Promise<unknown>>();

/** Does work of one name one after another; where tabs can be held off, in one tab at a time. */
export async function inTurn(name: string, work: () => Promise<void>): Promise<void> {
  if (!channel) {
    await navigator.locks.request(name, work);
    return;
  }
  const turn = (turns.get(name) ?? Promise.resolve()).then(work);
  turns.set(
    name,
    turn.catch(() => {}),
  );
  await turn;
}
