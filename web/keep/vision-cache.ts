/** The browser's cache of everything that only reading a photo needs. */
export const VISION_CACHE = 'vision';
