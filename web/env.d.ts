/// <reference types="vite/client" />
/// <reference types="vite-plugin-pwa/client" />

declare module 'exifr/dist/lite.esm.mjs' {
  export { default } from 'exifr';
}
