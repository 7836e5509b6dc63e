import fc from 'fast-check';
import { expect, test } from 'vitest';
import { copiedBytes } from '../../../server/log/copied-bytes.ts';

/** As PostgreSQL's manual has it under "COPY", "Binary Format". */
function copyOf(values: readonly Uint8Array[]): Buffer {
  const rows = values.flatMap((value) => {
    const head = Buffer.alloc(6);
    head.writeInt16BE(1, 0);
    head.writeInt32BE(value.length, 2);
    return [head, value];
  });
  const signature = Buffer.from('PGCOPY\n\xff\r\n\0', 'latin1');
  return Buffer.concat([signature, Buffer.alloc(8), ...rows, Buffer.from([0xff, 0xff])]);
}

async function passedOn(bytes: Buffer, cuts: readonly number[]): Promise<Buffer> {
  const at = [0, ...[...cuts].map((cut) => cut % bytes.length).sort((a, b) => a - b), bytes.length];
  async function* chunks() {
    for (let i = 1; i < at.length; i++)
      yield await Promise.resolve(bytes.subarray(at[i - 1], at[i]));
  }
  const found: Buffer[] = [];
  for await (const one of copiedBytes(chunks())) found.push(one);
  return Buffer.concat(found);
}

const values = fc.array(fc.uint8Array({ maxLength: 40 }), { maxLength: 4 });
const cuts = fc.array(fc.nat(), { maxLength: 30 });

test('passes on what was copied, wherever it is cut into pieces', async () => {
  await fc.assert(
    fc.asyncProperty(values, cuts, async (some, places) => {
      expect(await passedOn(copyOf(some), places)).toEqual(Buffer.concat(some));
    }),
  );
});

test('a copy that breaks off or is of something else is not taken for a whole one', async () => {
  const whole = copyOf([Buffer.from('photo')]);
  for (let length = 1; length < whole.length; length++) {
    await expect(passedOn(whole.subarray(0, length), [])).rejects.toThrow('broke off');
  }
  const other = Buffer.from(whole);
  other[0] = 0;
  await expect(passedOn(other, [])).rejects.toThrow('no copy of one column');
});
