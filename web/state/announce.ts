import { signal } from '@preact/signals';

export interface Notice {
  readonly text: string;
  readonly action?: { readonly label: string; readonly run: () => void };
}

/** The one short notice on screen; screen readers hear it too. */
export const notice = signal<Notice | null>(null);

let clearing: ReturnType<typeof setTimeout> | undefined;

export function announce(text: string, action?: Notice['action']): void {
  clearTimeout(clearing);
  notice.value = action ? { text, action } : { text };
  clearing = setTimeout(() => (notice.value = null), action ? 7000 : 4500);
}
