declare module 'heic-decode' {
  interface HeicImage {
    readonly width: number;
    readonly height: number;
    decode(): Promise<{ width: number; height: number; data: Uint8ClampedArray }>;
  }
  export interface HeicDecode {
    all(options: { buffer: Uint8Array }): Promise<HeicImage[] & { dispose(): void }>;
  }
  const decode: HeicDecode;
  export default decode;
}
