import { extname } from 'node:path';
import { explainStorage } from '../../log/explain-storage.ts';
import { LogError } from '../../log/log-error.ts';
import { writeFileDurably } from '../../files/write-file-durably.ts';
import { callerPath } from './caller-path.ts';
import { UsageError } from './exit.ts';

/** What a command can write, by the ending of the file's name. Each is made only when asked for. */
export type Forms = Readonly<Partial<Record<'svg' | 'png' | 'csv' | 'html', () => string>>>;

/** The ending that decides the form, checked before any work is done. @throws UsageError */
export function formOf(file: string, allowed: readonly (keyof Forms)[]): keyof Forms {
  const ending = extname(file).slice(1).toLowerCase();
  const form = allowed.find((one) => one === ending);
  if (form !== undefined) return form;
  const list = allowed.map((one) => `.${one}`).join(' or ');
  throw new UsageError(`--out: the file's name ends in ${list}, "${file}" does not.`);
}

/** Writes one form of a result; a PNG is painted from the SVG. @throws UsageError, LogError */
export async function writeResult(file: string, form: keyof Forms, forms: Forms): Promise<void> {
  const text = forms[form === 'png' ? 'svg' : form]!();
  const content = form === 'png' ? await painted(text) : text;
  try {
    await writeFileDurably(callerPath(file), content);
  } catch (error) {
    const explained = explainStorage(error);
    if (explained instanceof LogError) throw explained;
    throw new UsageError(`${file} cannot be written: ${(error as Error).message}`);
  }
}

async function painted(svg: string): Promise<Uint8Array> {
  const { rasterise } = await import('../../picture/rasterise.ts');
  return rasterise(svg);
}
