import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

/** What a person just opened has the focus, and is in sight. */
export function useFocusAtFirst<T extends HTMLElement>(): RefObject<T | null> {
  const element = useRef<T>(null);
  useEffect(() => element.current?.focus(), []);
  return element;
}
