import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';

const PHOTO = fileURLToPath(new URL('../../test-images/fresh-02.jpg', import.meta.url));
const PHOTO_MP = 4.32;

/** Of a photo of so many megapixels. */
export async function photoOf(megapixels = PHOTO_MP): Promise<string> {
  if (megapixels === PHOTO_MP) return PHOTO;
  const path = join(mkdtempSync(join(tmpdir(), 'endwise-photo-')), 'photo.jpg');
  const { width = 0 } = await sharp(PHOTO).metadata();
  const resized = sharp(PHOTO).resize({
    width: Math.round(width * Math.sqrt(megapixels / PHOTO_MP)),
  });
  await resized.jpeg({ quality: 92 }).toFile(path);
  return path;
}

/** Sends a photo to one server or another until it is confirmed. */
export async function upload(urls: readonly string[], key: string, photo: string) {
  for (let tries = 1; ; tries++) {
    const body = new FormData();
    body.append('photo', new Blob([new Uint8Array(readFileSync(photo))]));
    const headers = { prefer: 'respond-async', 'idempotency-key': key };
    const answer = await fetch(new URL('/api/readings', urls[tries % urls.length]), {
      method: 'POST',
      body,
      headers,
    }).catch(() => null);
    if (answer?.status === 202) {
      const said = (await answer.json().catch(() => null)) as { id: string } | null;
      if (said !== null) return { id: said.id, tries };
    }
    if (tries > 200) return { id: null, tries };
    await wait(500);
  }
}

/** What became of a photo: "read", why there is no reading, or "lost". */
export async function fetched(urls: readonly string[], id: string, until: number): Promise<string> {
  for (let turn = 0; Date.now() < until; turn++) {
    const address = new URL(`/api/readings/${id}`, urls[turn % urls.length]);
    const answer = await fetch(address, { headers: { prefer: 'wait=10' } }).catch(() => null);
    const body = (await answer?.json().catch(() => null)) as {
      error?: { code: string };
      ok?: true;
    } | null;
    if (answer?.status === 200 && body?.ok) return 'read';
    if (body?.error?.code === 'unknown-reading') return 'lost';
    const isOfDatabase = answer === null || answer.status === 503 || !body?.error;
    if (!isOfDatabase && answer.status !== 202) return body.error!.code;
    await wait(200);
  }
  return 'never';
}
