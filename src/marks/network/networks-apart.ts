import type { FlatFace } from '../../fit/flat/flatten.ts';
import type { Networks } from './networks.ts';

/** What the networks do, and with what. */
type Call = {
  [Name in keyof Asked]: { readonly of: Name; readonly args: Parameters<Asked[Name]> };
}[keyof Asked];

interface Asked {
  readonly marks: Networks['marks']['evidence'];
  readonly entries: Networks['entries']['evidence'];
  readonly rears: Networks['rears']['read'];
}

/** A call of networks in another thread; plain data and typed arrays. */
export type NetworkCall = Call & { readonly id: number };

/** What became of it. */
export type NetworkAnswer = { readonly id: number } & (
  { readonly answer: unknown } | { readonly problem: string }
);

/** Networks that live in another thread. */
export interface NetworksApart {
  readonly networks: Networks;
  /** Takes what the other thread answers. */
  readonly take: (answer: NetworkAnswer) => void;
  /** Lets all calls fail that are not yet answered, and later ones: the other thread is gone. */
  readonly fail: (reason: Error) => void;
}

/**
 * @param send Brings a call to where `answerCall` answers it.
 * @param release Ends the other thread.
 */
export function networksApart(
  send: (call: NetworkCall) => void,
  release: () => Promise<void>,
): NetworksApart {
  let calls = 0;
  let gone: Error | null = null;
  const waiting = new Map<
    number,
    { readonly resolve: (answer: unknown) => void; readonly reject: (reason: Error) => void }
  >();
  const ask = (call: Call): Promise<unknown> =>
    new Promise((resolve, reject) => {
      if (gone) throw gone;
      const id = calls++;
      send({ ...call, id });
      waiting.set(id, { resolve, reject });
    });
  const calling = <Name extends keyof Asked>(of: Name) =>
    ((...args: Parameters<Asked[Name]>) => ask({ of, args } as unknown as Call)) as Asked[Name];
  const [marks, entries, rears] = [calling('marks'), calling('entries'), calling('rears')];
  return {
    networks: {
      marks: { evidence: (flat, context) => marks(seenOf(flat), context), release },
      entries: { evidence: (flat, context) => entries(seenOf(flat), context), release },
      // What else a strip knows of itself may be no plain data.
      rears: { read: ({ planes, lengthPx }) => rears({ planes, lengthPx }), release },
    },
    take: (answer) => {
      const call = waiting.get(answer.id);
      waiting.delete(answer.id);
      if ('problem' in answer) call?.reject(new Error(answer.problem));
      else call?.resolve(answer.answer);
    },
    fail: (reason) => {
      gone = reason;
      for (const { reject } of waiting.values()) reject(reason);
      waiting.clear();
    },
  };
}

const NOTHING = new Uint8Array(0);

/** No network asks what of a flat face the photo shows: it need not be copied. */
function seenOf(flat: FlatFace): FlatFace {
  return { ...flat, seen: NOTHING };
}

/** Answers a call where the networks are. */
export async function answerCall(call: NetworkCall, networks: Networks): Promise<NetworkAnswer> {
  const { id } = call;
  try {
    return { id, answer: await answerOf(call, networks) };
  } catch (error) {
    return { id, problem: error instanceof Error ? error.message : String(error) };
  }
}

function answerOf(call: NetworkCall, { marks, entries, rears }: Networks): Promise<object> {
  switch (call.of) {
    case 'marks':
      return marks.evidence(...call.args);
    case 'entries':
      return entries.evidence(...call.args);
    case 'rears':
      return rears.read(...call.args);
  }
}

/** The memory of an answer's arrays, which may be handed over instead of copied. */
export function memoryOf(answer: NetworkAnswer): ArrayBuffer[] {
  if (!('answer' in answer)) return [];
  const arrays = Object.values(answer.answer as object).filter((value) =>
    ArrayBuffer.isView(value),
  );
  return [...new Set(arrays.map(({ buffer }) => buffer as ArrayBuffer))];
}
